import sharp, { type Sharp } from 'sharp'
import { describe, expect, test } from 'vitest'
import { seededRandom } from '../../../src/math/random.js'
import { bestShift, noiseShare, SAME_NOISE } from '../../../src/measure/export/sameNoise.js'
import type { Raster } from '../../../src/still/raster.js'

const WIDTH = 480
const HEIGHT = 270
/** Sides of the ground's grains, px. */
const SIZES = [2, 5, 12] as const

/** Plain sky over textured ground with some boxes, code values. */
function scene(seed: number): Float64Array {
  const random = seededRandom(seed)
  const grains = Array.from({ length: 4096 }, () => random.normal())
  const boxes = Array.from({ length: 20 }, () =>
    [WIDTH, HEIGHT, 90, 60].map((most) => random.uniform() * most).concat(50 * random.normal()),
  ) as [number, number, number, number, number][]
  const codes = new Float64Array(WIDTH * HEIGHT)
  for (let y = 0, at = 0; y < HEIGHT; y += 1)
    for (let x = 0; x < WIDTH; x += 1, at += 1) {
      let grain = 0
      for (const size of SIZES)
        grain += size * grains[(67 * Math.floor(y / size) + Math.floor(x / size)) & 4095]!
      codes[at] = 110 + (y > 0.45 * HEIGHT ? 1 : 0.15) * grain
    }
  for (const [left, top, w, h, code] of boxes)
    for (let y = Math.floor(top) + 1; y < Math.min(HEIGHT, top + h); y += 1)
      for (let x = Math.floor(left) + 1; x < Math.min(WIDTH, left + w); x += 1) codes[y * WIDTH + x]! += code
  return codes
}

interface Exposure {
  readonly seed: number
  readonly noise: number
  /** Where somebody stands, px. */
  readonly walkerX: number
  /** How far the wind moves the camera, px. */
  readonly swayPx?: number
}

function exposed(still: Float64Array, { seed, noise, walkerX, swayPx = 0 }: Exposure) {
  const random = seededRandom(seed)
  const codes = new Uint8Array(WIDTH * HEIGHT)
  for (let y = 0, at = 0; y < HEIGHT; y += 1)
    for (let x = 0; x < WIDTH; x += 1, at += 1) {
      const isWalker = Math.abs(x - walkerX) < 30 && y > 60 && y < 230
      const seen = isWalker
        ? 60 + 30 * Math.sin(x / 9) + 10 * Math.sin(y / 5)
        : (1 - swayPx) * still[at]! + swayPx * (still[at + 1] ?? still[at]!)
      codes[at] = Math.max(0, Math.min(255, Math.round(seen + noise * random.normal())))
    }
  return sharp(codes, { raw: { width: WIDTH, height: HEIGHT, channels: 1 } })
}

async function read(picture: Sharp): Promise<Raster> {
  const { data, info } = await picture.extractChannel(0).raw().toBuffer({ resolveWithObject: true })
  return { left: 0, top: 0, width: info.width, height: info.height, data: new Float32Array(data) }
}

const readJpeg = (bytes: Buffer): Promise<Raster> => read(sharp(bytes))
const encoded = (picture: Sharp, quality: number): Promise<Buffer> => picture.jpeg({ quality }).toBuffer()
const CROP = { left: 37, top: 21, width: 400, height: 240 }

describe.each([0.7, 2, 4])('with noise of %d code values', (noise) => {
  test('two exposures are never one picture, at any quality, in the wind too', async () => {
    const shares: (number | null)[] = []
    for (const seed of [1, 2, 3, 4, 5]) {
      const still = scene(100 * noise + seed)
      for (const [index, quality] of [95, 85, 80, 75, 60].entries()) {
        const swayPx = (seed + index) % 2 === 0 ? 0.3 : 0
        const [one, other, third] = await Promise.all(
          [
            { seed: 100 * seed + 3 * index, noise, walkerX: 150 },
            { seed: 100 * seed + 3 * index + 1, noise, walkerX: 150 },
            { seed: 100 * seed + 3 * index + 2, noise, walkerX: 330, swayPx },
          ].map(async (exposure) => readJpeg(await encoded(exposed(still, exposure), quality))),
        )
        shares.push(noiseShare(one!, other!, [0, 0], third!), noiseShare(other!, one!, [0, 0], third!))
      }
    }
    expect(shares.length).toBe(50)
    expect(shares.filter((share) => share !== null && share < SAME_NOISE)).toEqual([])
  })

  test('one exposure encoded again, or cut out, is told', async () => {
    const shares: Record<string, (number | null)[]> = {}
    for (const seed of [1, 2, 3]) {
      const still = scene(100 * noise + seed)
      const first = await encoded(exposed(still, { seed: 10 * seed, noise, walkerX: 150 }), 92)
      const third = await readJpeg(
        await encoded(exposed(still, { seed: 10 * seed + 2, noise, walkerX: 330 }), 92),
      )
      const one = await readJpeg(first)
      for (const quality of [95, 90, 85, 80, 70, 60]) {
        const again = await readJpeg(await encoded(sharp(first), quality))
        ;(shares[quality] ??= []).push(noiseShare(one, again, [0, 0], third))
      }
      const crop = await readJpeg(await encoded(sharp(first).extract(CROP), 90))
      const shift = bestShift(one, crop, [CROP.left + 2, CROP.top - 1])
      expect(shift).toEqual([CROP.left, CROP.top])
      ;(shares['crop'] ??= []).push(noiseShare(one, crop, shift, third))
    }
    // At little noise an encoder's own errors soon are as large: nothing is claimed there.
    const certain = noise < 2 ? ['95', '90'] : ['95', '90', '85', '80', 'crop']
    for (const as of certain)
      expect(Math.max(...shares[as]!.map((share) => share ?? 1)), as).toBeLessThan(SAME_NOISE)
  })
})

test('a picture without noise, or too small a one, tells nothing', async () => {
  const still = scene(1)
  const clean = await read(exposed(still, { seed: 1, noise: 0, walkerX: 150 }))
  expect(noiseShare(clean, clean, [0, 0], clean)).toBeNull()
  const noisy = (seed: number) =>
    exposed(still, { seed, noise: 2, walkerX: 150 }).extract({ ...CROP, width: 80, height: 80 })
  expect(noiseShare(await read(noisy(1)), await read(noisy(2)), [0, 0], await read(noisy(3)))).toBeNull()
})
