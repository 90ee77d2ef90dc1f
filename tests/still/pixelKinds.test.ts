import { describe, expect, it } from 'vitest'
import sharp, { type Sharp } from 'sharp'
import { expectNear } from '../nearly.js'
import { greyPng, greyProfile } from './greyPng.js'
import {
  openBytes,
  picture,
  pictureCode,
  pictureSamples,
  PICTURE_HEIGHT,
  PICTURE_WIDTH,
} from './madePictures.js'

const RAW = { width: PICTURE_WIDTH, height: PICTURE_HEIGHT } as const
const REGION = { left: 7, top: 4, width: 20, height: 13 }

/** Largest difference between the region of a still and the codes of the picture it was made of. */
async function worstError(bytes: Buffer): Promise<number> {
  const raster = await (await openBytes(bytes)).region(REGION)
  let worst = 0
  for (let row = 0; row < REGION.height; row++) {
    for (let column = 0; column < REGION.width; column++) {
      const error =
        raster.data[row * REGION.width + column]! - pictureCode(REGION.left + column, REGION.top + row)
      worst = Math.max(worst, Math.abs(error))
    }
  }
  return worst
}

/** One even picture of the given samples, 16 x 16 px. */
function even(samples: readonly number[], deep = false): Sharp {
  const channels = samples.length as 1 | 2 | 3 | 4
  const all = Array.from({ length: 256 }, () => samples).flat()
  return sharp(deep ? Uint16Array.from(all) : Uint8Array.from(all), {
    raw: { width: 16, height: 16, channels },
  })
}

async function firstCode(bytes: Buffer): Promise<number> {
  return (await (await openBytes(bytes)).region({ left: 8, top: 8, width: 1, height: 1 })).data[0]!
}

describe('kinds of pixels', () => {
  it('reads neutral stills exactly, whatever lossless format holds them', async () => {
    const grey = (): Sharp => sharp(pictureSamples(1), { raw: { ...RAW, channels: 1 } }).toColourspace('b-w')
    expect(await worstError(await picture().png().toBuffer())).toBe(0)
    expect(await worstError(await picture().png({ progressive: true }).toBuffer())).toBe(0)
    expect(await worstError(await picture().webp({ lossless: true }).toBuffer())).toBe(0)
    expect(await worstError(await picture().tiff({ compression: 'lzw' }).toBuffer())).toBe(0)
    expect(
      await worstError(
        await picture().tiff({ compression: 'deflate', tile: true, bigtiff: true }).toBuffer(),
      ),
    ).toBe(0)
    expect(await worstError(await picture().png({ palette: true, colours: 256 }).toBuffer())).toBe(0)
    expect(await worstError(await picture().withIccProfile('srgb').png().toBuffer())).toBe(0)
    expect(await worstError(await grey().png().toBuffer())).toBe(0)
    expect(await worstError(await grey().tiff({ compression: 'none' }).toBuffer())).toBe(0)
  })

  it('reads lossy stills to within their own coding', async () => {
    const jpeg = await picture().jpeg({ quality: 100, chromaSubsampling: '4:2:0' }).toBuffer()
    const progressive = await picture().jpeg({ quality: 100, progressive: true }).toBuffer()
    const greyJpeg = await sharp(pictureSamples(1), { raw: { ...RAW, channels: 1 } })
      .toColourspace('b-w')
      .jpeg({ quality: 100 })
      .toBuffer()
    const avif = await picture().avif({ lossless: true }).toBuffer()
    for (const bytes of [jpeg, progressive, greyJpeg]) expect(await worstError(bytes)).toBeLessThanOrEqual(2)
    expect(await worstError(avif)).toBeLessThanOrEqual(1)
  })

  it('weighs colours as luma', async () => {
    expectNear(await firstCode(await even([200, 100, 50]).png().toBuffer()), 124.2, { abs: 1e-4 })
    expectNear(await firstCode(await even([255, 0, 0]).png().toBuffer()), 76.245, { abs: 1e-4 })
  })

  it('gives the luma that a JPEG itself carries', async () => {
    const blue = await even([40, 60, 210]).jpeg({ quality: 100 }).toBuffer()
    expectNear(
      await firstCode(blue),
      0.299 * 40 + 0.587 * 60 + 0.114 * 210,
      { abs: 1.2 },
      'rounding to codes, twice',
    )
  })

  it('keeps the fractions of 16 bits', async () => {
    const grey = await even([30001], true).toColourspace('grey16').png().toBuffer()
    const colour = await even([30001, 30001, 30001], true).toColourspace('rgb16').png().toBuffer()
    const tiff = await even([30001, 30001, 30001], true)
      .toColourspace('rgb16')
      .tiff({ compression: 'lzw' })
      .toBuffer()
    for (const bytes of [grey, colour, tiff]) {
      expectNear(await firstCode(bytes), 30001 / 257, { abs: 1e-5 }, 'single precision')
      expect((await openBytes(bytes)).bitDepth).toBe(16)
    }
  })

  it('puts the white of 10 and 12 bits at 255', async () => {
    for (const bitdepth of [10, 12] as const) {
      const white = await even([65535, 65535, 65535], true)
        .toColourspace('rgb16')
        .avif({ lossless: true, bitdepth })
        .toBuffer()
      const still = await openBytes(white)
      expect(still.bitDepth).toBe(bitdepth)
      expect((await still.region({ left: 0, top: 0, width: 1, height: 1 })).data[0]).toBe(255)
    }
  })

  it('lays what is not opaque over white, and says so', async () => {
    const half = await even([100, 100, 100, 51]).png().toBuffer()
    expectNear(await firstCode(half), 100 * 0.2 + 255 * 0.8, { abs: 1e-4 })
    expectNear(await firstCode(await even([100, 51]).toColourspace('b-w').png().toBuffer()), 224, {
      abs: 1e-4,
    })
    expect((await openBytes(half)).remarks.map((remark) => remark.code)).toEqual(['still-not-opaque'])
  })

  it('says of a palette that shades may stand in steps', async () => {
    const [few, full] = await Promise.all([
      even([90, 120, 60]).png({ palette: true }).toBuffer(),
      even([90, 120, 60]).png().toBuffer(),
    ])
    expect((await openBytes(few)).remarks.map((remark) => remark.code)).toEqual(['still-palette'])
    expect((await openBytes(full)).remarks).toEqual([])
  })

  it('converts CMYK as any viewer shows it, and says so', async () => {
    const codes: number[] = []
    for (const code of [0, 64, 128, 192, 255]) {
      const bytes = await even([code, code, code]).toColourspace('cmyk').jpeg({ quality: 100 }).toBuffer()
      expect((await sharp(bytes).metadata()).space).toBe('cmyk')
      const shown = await sharp(bytes).raw().toBuffer()
      const luma = (299 * shown[0]! + 587 * shown[1]! + 114 * shown[2]!) / 1000
      expectNear(await firstCode(bytes), luma, { abs: 1e-4 }, 'single precision')
      codes.push(await firstCode(bytes))
      expect((await openBytes(bytes)).remarks.map((remark) => remark.code)).toEqual(['still-converted'])
    }
    expect(codes[4], 'white stays white: inks are not taken the wrong way round').toBe(255)
    expect(codes).toEqual([...codes].sort((a, b) => a - b))
    expectNear(codes[2]!, 128, { abs: 15 }, 'a print profile shifts tones')
  })

  it('converts the colours of another profile to sRGB', async () => {
    const p3 = await even([200, 40, 40]).withIccProfile('p3').png().toBuffer()
    const stored = await sharp(p3, { ignoreIcc: true }).raw().toBuffer()
    expect(Math.abs(stored[0]! - 200), 'the file really holds other numbers').toBeGreaterThan(10)
    expectNear(
      await firstCode(p3),
      (299 * 200 + 587 * 40 + 114 * 40) / 1000,
      { abs: 1.2 },
      'rounding to codes, twice',
    )
  })

  it('heeds the tone curve of a grey profile', async () => {
    const bytes = greyPng({ code: 128, profile: greyProfile(1) })
    // IEC 61966-2-1: linear light 128/255 is encoded as 188.
    expectNear(await firstCode(bytes), 187.5, { abs: 1 }, 'rounding of the code')
  })

  it('cuts the same as a full decode for each format', async () => {
    const noisy = pictureSamples(3).map((value, index) => (value + ((index * 7919) % 61)) % 256)
    const all = sharp(noisy, { raw: { ...RAW, channels: 3 } })
    for (const bytes of [
      await all.clone().jpeg({ quality: 80 }).toBuffer(),
      await all.clone().jpeg({ quality: 80, progressive: true }).toBuffer(),
      await all.clone().png().toBuffer(),
      await all.clone().webp().toBuffer(),
      await all.clone().tiff().toBuffer(),
      await all.clone().avif().toBuffer(),
    ]) {
      const still = await openBytes(bytes)
      const whole = await still.region({ left: 0, top: 0, width: still.width, height: still.height })
      const part = await still.region(REGION)
      for (let row = 0; row < REGION.height; row++) {
        for (let column = 0; column < REGION.width; column++) {
          expect(part.data[row * REGION.width + column]).toBe(
            whole.data[(REGION.top + row) * still.width + REGION.left + column],
          )
        }
      }
    }
  })
})
