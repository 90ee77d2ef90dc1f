import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../src/math/random.js'
import { isTurned } from '../../src/scene/toldMotion.js'
import { type GreyPicture, SceneSite } from '../support/sceneSite.js'
import { registered } from '../support/registered.js'

const [WIDTH, HEIGHT] = [960, 540]
const site = new SceneSite(45, 'houses', WIDTH, HEIGHT, 700, -0.5)
const shot = (seed: number, pan = 0): GreyPicture => site.shoot({ light: 'day', walker: 0.3, seed, pan })

function changed(picture: GreyPicture, code: (code: number, x: number, y: number) => number): GreyPicture {
  const data = picture.data.map((each, i) =>
    Math.round(Math.min(255, Math.max(0, code(each, i % WIDTH, Math.floor(i / WIDTH))))),
  )
  return { ...picture, data }
}

/** Fog through which so much of the contrast comes, with grain of its own. */
function inFog(picture: GreyPicture, left: number, seed: number): GreyPicture {
  const random = seededRandom(seed)
  return changed(picture, (code) => 190 + left * (code - 190) + 1.5 * random.normal())
}

/** Streaks of rain, bright, thin and nearly upright, others in each still. */
function inRain(picture: GreyPicture, seed: number): GreyPicture {
  const random = seededRandom(seed)
  const rained = { ...picture, data: picture.data.slice() }
  for (let drop = 0; drop < 700; drop++) {
    const [x, y] = [random.uniform() * WIDTH, random.uniform() * HEIGHT]
    const length = 20 + 50 * random.uniform()
    for (let along = 0; along < length; along++) {
      const [column, row] = [Math.floor(x + 0.15 * along), Math.floor(y + along)]
      if (column >= WIDTH || row >= HEIGHT) break
      const at = row * WIDTH + column
      rained.data[at] = Math.min(255, rained.data[at]! + 70)
    }
  }
  return rained
}

/** A truck over nearly half the picture, with letters and slats of its own, where it stood before. */
function withTruck(picture: GreyPicture): GreyPicture {
  const [left, top, right, bottom] = [0.2 * WIDTH, 0.25 * HEIGHT, 0.85 * WIDTH, 0.95 * HEIGHT]
  return changed(picture, (code, x, y) => {
    if (x < left || x > right || y < top || y > bottom) return code
    const [u, v] = [Math.floor((x - left) / 24), Math.floor((y - top) / 18)]
    return 90 + 60 * (((u * 7 + v * 13) % 5) / 4) + (code - 128) * 0.02
  })
}

describe('in weather, and behind what stands there now and then', () => {
  test.each([0.5, 0.2, 0.08, 0.02])(
    'fog that leaves %s of the contrast: told rightly, or not told',
    async (left) => {
      const one = inFog(shot(1), left, 1)
      const [still, turned] = [
        await registered(one, inFog(shot(2), left, 2), site.lens),
        await registered(one, inFog(shot(3, 0.3), left, 3), site.lens),
      ]
      expect(still.motion === null || !isTurned(still.motion)).toBe(true)
      expect(turned.motion === null || Math.abs(turned.motion.turn!.pan - 0.3) < 0.05).toBe(true)
      expect([still.isOtherView, turned.isOtherView]).toEqual([false, false])
      if (left >= 0.2) expect([still.motion, turned.motion]).not.toContain(null)
      if (left <= 0.02) expect([still.motion, turned.motion]).toEqual([null, null])
    },
  )

  test('rain, other streaks in each still, moves nothing and hides no turn', async () => {
    const one = inRain(shot(1), 11)
    const [still, turned] = [
      await registered(one, inRain(shot(2), 12), site.lens),
      await registered(one, inRain(shot(3, 0.1), 13), site.lens),
    ]
    expect(isTurned(still.motion!)).toBe(false)
    expect(turned.motion!.turn!.pan).toBeCloseTo(0.1, 1)
    expect(isTurned(turned.motion!)).toBe(true)
  })

  test('a truck that stands in half of the stills neither moves the camera nor makes another view', async () => {
    const [one, parked, again] = [shot(1), withTruck(shot(2)), withTruck(shot(3))]
    for (const [a, b] of [
      [one, parked],
      [parked, again],
    ] as const) {
      const { motion, isOtherView } = await registered(a, b, site.lens)
      expect([motion === null, isOtherView]).toEqual([false, false])
      expect(isTurned(motion!)).toBe(false)
    }
  })
})
