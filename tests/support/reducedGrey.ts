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
  const colours = Buffer.alloc(3 * grey.length)
  for (let i = 0; i < grey.length; i++) colours[3 * i] = colours[3 * i + 1] = colours[3 * i + 2] = grey[i]!
  return colours
}
