import { describe, expect, it } from 'vitest'
import sharp from 'sharp'
import { openBytes, picture, pictureSamples, PICTURE_HEIGHT, PICTURE_WIDTH } from './madePictures.js'

/** The stored picture as any viewer turns it, by the decoder's own turning, which the product does not use. */
async function displayedBy(bytes: Buffer): Promise<{ data: Buffer; width: number; height: number }> {
  const { data, info } = await sharp(bytes)
    .autoOrient()
    .toColourspace('b-w')
    .raw()
    .toBuffer({ resolveWithObject: true })
  return { data, width: info.width, height: info.height }
}

describe('EXIF orientation', () => {
  for (let orientation = 1; orientation <= 8; orientation++) {
    it(`${orientation} is applied to the size and to a region`, async () => {
      const bytes = await picture().withMetadata({ orientation }).png().toBuffer()
      const truth = await displayedBy(bytes)
      const still = await openBytes(bytes)
      expect([still.width, still.height]).toEqual([truth.width, truth.height])

      const region = { left: 3, top: 5, width: 17, height: 11 }
      const raster = await still.region(region)
      for (let row = 0; row < region.height; row++) {
        for (let column = 0; column < region.width; column++) {
          expect(raster.data[row * region.width + column]).toBe(
            truth.data[(region.top + row) * truth.width + region.left + column],
          )
        }
      }
      const crop = await still.crop(region, { format: 'png' })
      const cut = await sharp(crop.bytes).toColourspace('b-w').raw().toBuffer()
      expect([...cut]).toEqual([...raster.data])
    })
  }

  it('turns the stored corner to where EXIF says it is shown', async () => {
    // EXIF 2.3, tag 0x0112: 6 means that the stored first row is the displayed right-hand side, 8 the left-hand side.
    const marked = pictureSamples(3).fill(0)
    marked.fill(255, 0, 3)
    const raw = { width: PICTURE_WIDTH, height: PICTURE_HEIGHT, channels: 3 } as const
    for (const [orientation, column, row] of [
      [6, PICTURE_HEIGHT - 1, 0],
      [8, 0, PICTURE_WIDTH - 1],
      [3, PICTURE_WIDTH - 1, PICTURE_HEIGHT - 1],
      [2, PICTURE_WIDTH - 1, 0],
    ] as const) {
      const still = await openBytes(
        await sharp(marked, { raw }).withMetadata({ orientation }).png().toBuffer(),
      )
      const raster = await still.region({ left: column, top: row, width: 1, height: 1 })
      expect([...raster.data]).toEqual([255])
    }
  })

  it('is obeyed in JPEG, WebP and TIFF alike', async () => {
    for (const write of ['jpeg', 'webp', 'tiff'] as const) {
      const bytes = await picture().withMetadata({ orientation: 6 })[write]().toBuffer()
      const truth = await displayedBy(bytes)
      const still = await openBytes(bytes)
      expect([still.width, still.height]).toEqual([PICTURE_HEIGHT, PICTURE_WIDTH])
      const raster = await still.region({ left: 0, top: 0, width: still.width, height: still.height })
      const worst = Math.max(...raster.data.map((value, index) => Math.abs(value - truth.data[index]!)))
      expect(worst).toBeLessThanOrEqual(1)
    }
  })
})
