import { readdirSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { openStill, type StillFile } from '../../src/still/openStill.js'
import type { Raster } from '../../src/still/raster.js'
import { expectNear } from '../nearly.js'
import { fixture } from '../support/fixtures.js'

// Files that other programs wrote (fixtures/hostile/make.py), all of the same corner of a brick wall, 144 x 96 px.
const [WIDTH, HEIGHT] = [144, 96]

async function opened(name: string): Promise<StillFile> {
  const still = await openStill(fixture(name))
  if (!still.ok) throw new Error(`${name}: ${still.code}`)
  return still.value
}

function whole(still: StillFile): Promise<Raster> {
  return still.region({ left: 0, top: 0, width: still.width, height: still.height })
}

/** The wall's codes. */
async function wall(): Promise<Float32Array> {
  const still = await opened('photographs/brick.png')
  return (await still.region({ left: 0, top: 0, width: WIDTH, height: HEIGHT })).data
}

/** Largest difference of code values. */
function worst(a: Float32Array, b: Float32Array): number {
  expect(a.length).toBe(b.length)
  return a.reduce((most, value, at) => Math.max(most, Math.abs(value - b[at]!)), 0)
}

/** Stored rows as displayed after EXIF orientation 6: the stored first row is the displayed right-hand side. */
function turnedRight(stored: Float32Array): Float32Array {
  return stored.map(
    (_, at) => stored[(HEIGHT - 1 - (at % HEIGHT)) * WIDTH + Math.floor(at / HEIGHT)] ?? Number.NaN,
  )
}

const codesOf = (still: StillFile): string[] => still.remarks.map(({ code }) => code)

describe('stills of other programs', () => {
  it('each have a test here', () => {
    const shipped = readdirSync(fixture('hostile')).filter((name) => !name.endsWith('.py'))
    expect(shipped.sort()).toEqual([
      'animated.png',
      'arithmetic-coded.jpg',
      'bit-flipped.jpg',
      'claims-40000.png',
      'cmyk-inverted.jpg',
      'data-cut.png',
      'deep-clear-interlaced.png',
      'exif-in-a-circle.jpg',
      'first-scans-only.jpg',
      'turned-with-upright-thumbnail.jpg',
      'two-pages.tif',
    ])
  })

  it('are refused by their head where it claims too much', async () => {
    expect(await openStill(fixture('hostile/claims-40000.png'))).toMatchObject({
      ok: false,
      code: 'still-too-large',
    })
  })

  it('fail by name where a PNG whose chunks are whole holds less than a picture', async () => {
    const still = await opened('hostile/data-cut.png')
    await expect(whole(still)).rejects.toMatchObject({ code: 'still-damaged' })
  })

  it('are read from arithmetic coding as the picture that was coded', async () => {
    const still = await opened('hostile/arithmetic-coded.jpg')
    expect(codesOf(still)).toEqual([])
    expect(worst((await whole(still)).data, await wall()), 'codes, at quality 90').toBeLessThan(12)
  })

  it('are the same down to a bit that is another, which a JPEG has no sum to tell by', async () => {
    const still = await opened('hostile/bit-flipped.jpg')
    const sound = (await whole(await opened('hostile/arithmetic-coded.jpg'))).data
    const { data } = await whole(still)
    const first = data.findIndex((value, at) => value !== sound[at])
    expect(Math.floor(first / WIDTH), 'first row that differs').toBeGreaterThanOrEqual(16)
    expect(worst(data, sound)).toBeGreaterThan(1)
  })

  it('cannot be told from whole where a progressive JPEG without its later scans has a right end', async () => {
    const still = await opened('hostile/first-scans-only.jpg')
    const { data } = await whole(still)
    const truth = await wall()
    const mean = (codes: Float32Array): number => codes.reduce((sum, code) => sum + code, 0) / codes.length
    expectNear(mean(data), mean(truth), { abs: 1 }, 'codes: blocks have their level')
    expect(worst(data, truth), 'codes: and no detail').toBeGreaterThan(12)
    expect(codesOf(still)).toEqual([])
  })

  it('of inverted inks have light where there is no ink', async () => {
    const still = await opened('hostile/cmyk-inverted.jpg')
    expect(codesOf(still)).toEqual(['still-converted'])
    const { data } = await whole(still)
    const truth = await wall()
    const off = data.reduce((sum, code, at) => sum + Math.abs(code - truth[at]!), 0) / data.length
    expect(off, 'codes on the mean: a print profile shifts tones').toBeLessThan(15)
  })

  it.each(['turned-with-upright-thumbnail.jpg', 'exif-in-a-circle.jpg'])(
    'are turned as their own EXIF says: %s',
    async (name) => {
      const still = await opened(`hostile/${name}`)
      expect([still.width, still.height, still.takenAt]).toEqual([HEIGHT, WIDTH, null])
      expect(worst((await whole(still)).data, turnedRight(await wall())), 'at quality 90').toBeLessThan(12)
    },
  )

  it('of 16 bits, interlaced and half clear, keep their fractions over white', async () => {
    const still = await opened('hostile/deep-clear-interlaced.png')
    expect([still.bitDepth, codesOf(still)]).toEqual([16, ['still-not-opaque']])
    const expected = (await wall()).map((code, at) => {
      const level = code + 60 / 257
      const isClear = at % WIDTH < WIDTH / 2 && at < (WIDTH * HEIGHT) / 2
      const share = isClear ? 32768 / 65535 : 1
      return level * share + 255 * (1 - share)
    })
    expect(worst((await whole(still)).data, expected), 'codes, single precision').toBeLessThan(1e-3)
  })

  it('that hold several pictures are read as their first', async () => {
    const truth = await wall()
    const [animated, pages] = [await opened('hostile/animated.png'), await opened('hostile/two-pages.tif')]
    expect(codesOf(pages)).toEqual(['still-first-of-several'])
    for (const still of [animated, pages]) expect(worst((await whole(still)).data, truth)).toBe(0)
  })
})
