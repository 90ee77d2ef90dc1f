import { describe, expect, test } from 'vitest'
import { isTurned } from '../../src/scene/toldMotion.js'
import { type GreyPicture, isScaled, SceneSite, type SiteShot } from '../support/sceneSite.js'
import { registered } from '../support/registered.js'

const [WIDTH, HEIGHT] = [960, 540]
const houses = new SceneSite(41, 'houses', WIDTH, HEIGHT, 700, -0.5)
const first: SiteShot = { light: 'day', seed: 1, walker: 0.4 }

const register = (
  one: GreyPicture,
  other: GreyPicture,
  within: 'inside' | 'between' = 'inside',
  lens: SceneSite['lens'] | null = houses.lens,
) => registered(one, other, lens, within)

/** The picture with its places changed: `from` gives the place that is shown. */
function changed(
  { width, height, data }: GreyPicture,
  from: (x: number, y: number) => readonly [number, number],
): GreyPicture {
  const at = (i: number): number => {
    const [x, y] = from(i % width, Math.floor(i / width))
    return data[Math.round(y) * width + Math.round(x)]!
  }
  return { width, height, data: Uint8Array.from({ length: width * height }, (_, i) => at(i)) }
}

describe('inside a light', () => {
  const reference = houses.shoot(first)

  test('a camera that did not move is told so, though walker, leaves, clock and noise are others', async () => {
    const { motion } = await register(reference, houses.shoot({ ...first, seed: 2, walker: 0.7 }))
    expect(motion).not.toBeNull()
    expect([isTurned(motion!), isScaled(motion!)]).toEqual([false, false])
    expect(motion!.u.turn).toBeLessThan(0.03)
  })

  test('a knock is told by its angle and direction', async () => {
    const knocked = houses.shoot({ ...first, seed: 3, pan: 0.3, tilt: -0.15, roll: 0.2 })
    const { motion } = await register(reference, knocked)
    const { pan, tilt, roll } = motion!.turn!
    expect(Math.hypot(pan - 0.3, tilt + 0.15)).toBeLessThan(motion!.u.turn)
    expect(roll).toBeCloseTo(0.2, 1)
    expect([isTurned(motion!), isScaled(motion!)]).toEqual([true, false])
    // The camera looks to the right and up: what it sees goes to the left and down.
    expect(motion!.shift.x).toBeLessThan(0)
    expect(motion!.shift.y).toBeGreaterThan(0)
  })

  test('a zoom is told as a share', async () => {
    const { motion } = await register(reference, houses.shoot({ ...first, seed: 4, zoom: 1.003 }))
    expect(Math.abs(motion!.scale - 1.003)).toBeLessThan(motion!.u.scale)
    expect([isTurned(motion!), isScaled(motion!)]).toEqual([false, true])
  })

  test('without a lens there are px and no degrees', async () => {
    const { motion } = await register(
      reference,
      houses.shoot({ ...first, seed: 5, pan: 0.3 }),
      'inside',
      null,
    )
    expect(motion!.turn).toBeNull()
    expect(motion!.shift.x).toBeLessThan(-2)
    expect(isTurned(motion!)).toBe(true)
  })

  test('the same stills give the same numbers', async () => {
    const other = houses.shoot({ ...first, seed: 6, pan: 0.05 })
    expect(await register(reference, other)).toEqual(await register(reference, other))
  })

  test.each([1.25, 2, 0.5])('a still enlarged %s times is told', async (times) => {
    const plain = houses.shoot({ ...first, seed: 7 })
    const small = changed(plain, (x, y) => [480 + (x - 480) / 2, 270 + (y - 270) / 2])
    const other = changed(plain, (x, y) => [480 + (x - 480) / times, 270 + (y - 270) / times])
    const { motion } = times < 1 ? await register(small, plain) : await register(reference, other)
    expect(Math.abs(motion!.scale / times - 1)).toBeLessThan(0.01)
    expect(isScaled(motion!)).toBe(true)
  })

  test('another camera with the same captions is another view', async () => {
    const other = new SceneSite(42, 'houses', WIDTH, HEIGHT, 700, -0.5)
    expect(await register(reference, other.shoot({ ...first, seed: 8 }))).toEqual({
      motion: null,
      isOtherView: true,
    })
  })

  test('a mirrored still is another view, one turned upside down is never taken for steady', async () => {
    const plain = houses.shoot({ ...first, seed: 9 })
    const mirrored = changed(plain, (x, y) => [WIDTH - 1 - x, y])
    expect(await register(reference, mirrored)).toEqual({ motion: null, isOtherView: true })
    const upsideDown = changed(plain, (x, y) => [WIDTH - 1 - x, HEIGHT - 1 - y])
    const { motion } = await register(reference, upsideDown)
    expect(motion === null || Math.abs(motion.turn!.roll) > 170).toBe(true)
  })
})

describe('from light to light', () => {
  test.each(['infrared', 'lamp'] as const)(
    'day against %s: steady, and turned by a tenth of a degree',
    async (light) => {
      const day = houses.shoot(first)
      const steady = await register(day, houses.shoot({ ...first, light, seed: 12 }), 'between')
      expect([isTurned(steady.motion!), isScaled(steady.motion!)]).toEqual([false, false])
      const knocked = await register(day, houses.shoot({ ...first, light, seed: 13, pan: -0.1 }), 'between')
      expect(knocked.motion!.turn!.pan).toBeCloseTo(-0.1, 1)
      expect(isTurned(knocked.motion!)).toBe(true)
    },
  )
})

describe('where there is nothing to go by, nothing is told', () => {
  const blank = new SceneSite(43, 'blank', WIDTH, HEIGHT, 700, -0.5)

  test.each([
    ['a white wall, a caption and a clock', { light: 'day', walker: 0 }, {}],
    ['the same wall, the camera turned', { light: 'day', walker: 0 }, { pan: 0.2 }],
    ['a black night with hot pixels', { light: 'infrared', walker: 0.3, electrons: 40 }, { pan: 0.1 }],
  ] as const)('%s', async (_name, shot, pose) => {
    const one = blank.shoot({ ...shot, seed: 1 })
    const other = blank.shoot({ ...shot, ...pose, seed: 2 })
    expect(await register(one, other)).toEqual({ motion: null, isOtherView: false })
    expect(await register(one, other, 'between')).toEqual({ motion: null, isOtherView: false })
  })
})

test('captions do not pin the answer: a dark site, turned, is told as turned or not at all', async () => {
  const dark = { ...first, electrons: 60, walker: 0 }
  const { motion } = await register(houses.shoot(dark), houses.shoot({ ...dark, seed: 2, pan: 0.2 }))
  expect(motion === null || isTurned(motion)).toBe(true)
})

test('a fence of equal pickets, turned by about one, is not taken for steady', async () => {
  const fence = new SceneSite(44, 'fence', WIDTH, HEIGHT, 700, -0.5)
  const period = (16 * (0.75 / 1.25) * 180) / Math.PI / 700
  const { motion } = await register(fence.shoot(first), fence.shoot({ ...first, seed: 2, pan: period }))
  expect(motion === null || isTurned(motion)).toBe(true)
})

test('a picture half covered by the walker is told by the other half', async () => {
  const { motion } = await register(
    houses.shoot({ ...first, walker: 1.6, seed: 3 }),
    houses.shoot({ ...first, seed: 4, pan: 0.1 }),
  )
  expect(motion!.turn!.pan).toBeCloseTo(0.1, 1)
})

test('OpenCV leaves no listener of its own on the process', async () => {
  const listeners = () =>
    ['unhandledRejection', 'uncaughtException'].map((name) => process.listenerCount(name))
  const before = listeners()
  await register(houses.shoot(first), houses.shoot({ ...first, seed: 2 }))
  expect(listeners()).toEqual(before)
})
