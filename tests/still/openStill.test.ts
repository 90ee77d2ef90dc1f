import { createHash } from 'node:crypto'
import { readFile, stat, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, it } from 'vitest'
import sharp from 'sharp'
import { openStill } from '../../src/still/openStill.js'
import { inFolder, openBytes, picture, PICTURE_HEIGHT, PICTURE_WIDTH, pictureCode } from './madePictures.js'

const exif = {
  IFD0: { Make: 'Invented', DateTime: '2026:03:15 08:00:00' },
  IFD2: { DateTimeOriginal: '2026:03:14 21:05:11' },
  IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 3230/100' },
}

describe('opening a still', () => {
  it('tells what is known of the file and leaves it as it was', async () => {
    await inFolder(async (folder) => {
      const bytes = await picture().withExif(exif).jpeg().toBuffer()
      const path = join(folder, 'still.jpg')
      await writeFile(path, bytes)
      const before = await stat(path)
      const opened = await openStill(path)
      if (!opened.ok) throw new Error(opened.message)
      const still = opened.value
      await still.region({ left: 0, top: 0, width: 9, height: 9 })
      expect(still).toMatchObject({
        path,
        format: 'jpeg',
        width: PICTURE_WIDTH,
        height: PICTURE_HEIGHT,
        bitDepth: 8,
        sha256: createHash('sha256').update(bytes).digest('hex'),
        sizeBytes: bytes.length,
        takenAt: '2026-03-14T21:05:11',
        remarks: [],
      })
      expect((await stat(path)).mtimeMs).toBe(before.mtimeMs)
      expect((await readFile(path)).equals(bytes)).toBe(true)
    })
  })

  it('reads the time from where each format keeps it, and invents none', async () => {
    expect((await openBytes(await picture().withExif(exif).webp().toBuffer())).takenAt).toBe(
      '2026-03-14T21:05:11',
    )
    expect((await openBytes(await picture().withExif(exif).png().toBuffer())).takenAt).toBe(
      '2026-03-14T21:05:11',
    )
    const written = { IFD0: { DateTime: '2026:03:15 08:00:00' } }
    expect((await openBytes(await picture().withExif(written).jpeg().toBuffer())).takenAt).toBe(
      '2026-03-15T08:00:00',
    )
    for (const DateTime of ['0000:00:00 00:00:00', '2026:13:45 21:05:11', '2026:02:31 21:05:11']) {
      const bytes = await picture().withExif({ IFD0: { DateTime } }).jpeg().toBuffer()
      expect((await openBytes(bytes)).takenAt, DateTime).toBe(null)
    }
    expect((await openBytes(await picture().jpeg().toBuffer())).takenAt).toBe(null)
  })

  it('reads the first of several pictures and says so', async () => {
    const white = await sharp({
      create: { width: PICTURE_WIDTH, height: PICTURE_HEIGHT, channels: 3, background: 'white' },
    })
      .png()
      .toBuffer()
    const first = await picture().png().toBuffer()
    const moving = await sharp([first, white], { join: { animated: true } })
      .webp({ lossless: true })
      .toBuffer()
    const still = await openBytes(moving)
    expect(still.remarks.map((remark) => remark.code)).toContain('still-first-of-several')
    expect(still.height).toBe(PICTURE_HEIGHT)
    const raster = await still.region({ left: 20, top: 10, width: 1, height: 1 })
    expect(raster.data[0]).toBe(pictureCode(20, 10))
  })

  it('clamps a region to the still and refuses one that holds nothing of it', async () => {
    const still = await openBytes(await picture().png().toBuffer())
    const raster = await still.region({ left: -4.5, top: 37.2, width: 8, height: 90 })
    expect(raster).toMatchObject({ left: 0, top: 37, width: 4, height: 3 })
    expect(raster.data).toHaveLength(12)
    expect(raster.data[0]).toBe(pictureCode(0, 37))
    for (const region of [
      { left: 60, top: 0, width: 5, height: 5 },
      { left: 5, top: 5, width: 0, height: 5 },
      { left: NaN, top: 5, width: 5, height: 5 },
    ]) {
      await expect(still.region(region)).rejects.toMatchObject({ code: 'region-outside' })
    }
  })

  it('crops in colour, smaller where asked, with nothing in the file but pixels', async () => {
    const bytes = await picture().withExif(exif).withIccProfile('p3').jpeg({ quality: 95 }).toBuffer()
    const still = await openBytes(bytes)
    const region = { left: 10, top: 6, width: 40, height: 20 }
    for (const format of ['jpeg', 'png'] as const) {
      const crop = await still.crop(region, { format })
      const head = await sharp(crop.bytes).metadata()
      expect(head).toMatchObject({ format, width: 40, height: 20, channels: 3, hasProfile: false })
      expect([head.exif, head.xmp, head.iptc]).toEqual([undefined, undefined, undefined])
      expect(crop.bytes.includes('Invented')).toBe(false)
      expect((await still.crop(region, { format })).bytes.equals(crop.bytes)).toBe(true)
      const small = await still.crop(region, { format, longestSidePx: 16 })
      expect([small.width, small.height]).toEqual([16, 8])
      expect(await still.crop(region, { format, longestSidePx: 400 })).toMatchObject({
        width: 40,
        height: 20,
      })
    }
  })

  it('keeps the colours of a crop', async () => {
    const red = await sharp({
      create: { width: 20, height: 20, channels: 3, background: { r: 200, g: 30, b: 60 } },
    })
      .png()
      .toBuffer()
    const crop = await (
      await openBytes(red)
    ).crop({ left: 2, top: 2, width: 3, height: 3 }, { format: 'png' })
    expect([...(await sharp(crop.bytes).raw().toBuffer()).subarray(0, 3)]).toEqual([200, 30, 60])
  })
})
