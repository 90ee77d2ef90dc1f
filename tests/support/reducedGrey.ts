import sharp from 'sharp'
import type { PixelRegion } from '../../src/still/raster.js'
import type { GreyPicture } from './sceneSite.js'

/** A grey picture, or a region of it, reduced as an opened still is: 8-bit RGB, row by row. */
export async function reducedGrey(
  { width, height, data }: GreyPicture,
  across: number,
  down: number,
  region: PixelRegion | null,
): Promise<Buffer> {
  const whole = sharp(data, { raw: { width, height, channels: 1 } })
  const grey = await (region === null ? whole : whole.extract(region))
    .resize(across, down, { fit: 'fill', kernel: 'mitchell' })
    .toColourspace('b-w')
    .raw()
    .toBuffer()
  return Buffer.from(Uint8Array.from({ length: 3 * grey.length }, (_, i) => grey[Math.floor(i / 3)]!))
}
