import { execFileSync, spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { registerStills } from '../../src/scene/registerStills.js'
import { scenePicture } from '../../src/scene/scenePicture.js'
import { matchesOf, WAY_WIDTH } from '../../src/scene/sceneWays.js'
import { isTurned, type ToldMotion } from '../../src/scene/toldMotion.js'
import { referenceResults } from '../support/fixtures.js'
import { reducedGrey } from '../support/reducedGrey.js'
import { type GreyPicture, isScaled } from '../support/sceneSite.js'

// Two frames of a real fixed camera (OpenCV's vtest.avi in Debian's opencv-doc), plain and with a known warp: by this project's registration, and by OpenCV's own in Python, another one.

interface Similarity {
  readonly x: number
  readonly y: number
  /** Degrees, clockwise. */
  readonly turn: number
  readonly scale: number
}

interface Pair {
  readonly frames: readonly [number, number]
  readonly warp: Similarity | null
  readonly features: Similarity
}

const VIDEO = '/usr/share/doc/opencv-doc/examples/data/vtest.avi'
const [WIDTH, HEIGHT] = [768, 576]
const canRead = existsSync(VIDEO) && spawnSync('ffmpeg', ['-version']).status === 0

function frame(index: number): GreyPicture {
  const take = ['-vf', `select=eq(n\\,${index}),format=gray`, '-frames:v', '1', '-f', 'rawvideo', '-']
  const data = execFileSync('ffmpeg', ['-loglevel', 'error', '-i', VIDEO, ...take], { maxBuffer: 1e7 })
  return { width: WIDTH, height: HEIGHT, data }
}

/** The picture carried by a similarity about its middle, between pixels linearly. */
function warped(picture: GreyPicture, warp: Similarity | null): GreyPicture {
  if (warp === null) return picture
  const radians = (warp.turn * Math.PI) / 180
  const [cos, sin] = [Math.cos(radians) / warp.scale, Math.sin(radians) / warp.scale]
  const [mx, my] = [WIDTH / 2 - 0.5, HEIGHT / 2 - 0.5]
  const at = (x: number, y: number): number =>
    picture.data[Math.min(HEIGHT - 1, Math.max(0, y)) * WIDTH + Math.min(WIDTH - 1, Math.max(0, x))]!
  const data = Uint8Array.from({ length: WIDTH * HEIGHT }, (_, i) => {
    const [dx, dy] = [(i % WIDTH) - mx - warp.x, Math.floor(i / WIDTH) - my - warp.y]
    const [x, y] = [mx + cos * dx + sin * dy, my - sin * dx + cos * dy]
    const [left, top] = [Math.floor(x), Math.floor(y)]
    const [fx, fy] = [x - left, y - top]
    const above = (1 - fx) * at(left, top) + fx * at(left + 1, top)
    const below = (1 - fx) * at(left, top + 1) + fx * at(left + 1, top + 1)
    return Math.round((1 - fy) * above + fy * below)
  })
  return { width: WIDTH, height: HEIGHT, data }
}

async function register(one: GreyPicture, other: GreyPicture): Promise<ToldMotion | null> {
  const still = (picture: GreyPicture) => ({
    width: WIDTH,
    height: HEIGHT,
    reduced: (across: number, down: number) => reducedGrey(picture, across, down, null),
  })
  const { motion } = await registerStills(
    async (way) =>
      matchesOf(
        way,
        await scenePicture(still(one), WAY_WIDTH[way]),
        await scenePicture(still(other), WAY_WIDTH[way]),
      ),
    'inside',
    null,
    { width: WIDTH, height: HEIGHT },
  )
  return motion
}

describe.skipIf(!canRead)(
  'frames of a real fixed camera (skipped only without opencv-doc and ffmpeg)',
  () => {
    test.each(referenceResults<readonly Pair[]>('sceneRegistration'))(
      'frames $frames, warped by $warp',
      async ({ frames, warp, features }) => {
        const motion = await register(frame(frames[0]), warped(frame(frames[1]), warp))
        expect(motion).not.toBeNull()
        const { shift, scale, u } = motion!
        // OpenCV's own registration comes within 0.03 px and 0.01 % of the warp that was laid on.
        expect(Math.hypot(shift.x - features.x, shift.y - features.y)).toBeLessThan(u.shift)
        expect(Math.abs(scale - features.scale)).toBeLessThan(u.scale)
        expect(u.shift).toBeLessThan(0.2)
        expect(isTurned(motion!)).toBe(warp !== null)
        expect(isScaled(motion!)).toBe(warp !== null)
      },
    )
  },
)
