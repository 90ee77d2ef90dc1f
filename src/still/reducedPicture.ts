import type { PictureSource } from './decodeRegion.js'
import { loadSharp } from './loadSharp.js'
import { MOST_PIXELS } from './stillFault.js'
import type { PixelRegion } from './raster.js'
import { storedRegion, swapsSides, turnedSamples } from './turn.js'
import { fault } from '../sentences.js'
import { stillSays } from './sentences.js'

/**
 * The whole still as displayed, or a region of it (whole px, inside it), reduced to exactly `width` x `height` px: 8-bit RGB in sRGB, row by row, what is not opaque over white. A JPEG is decoded
 * no finer than that needs. For looking at, not for measuring: where a picture is damaged it shows what there is.
 * @throws `ProofwalkError` `still-damaged` where that is nothing
 */
export async function reducedPicture(
  source: PictureSource,
  width: number,
  height: number,
  region: PixelRegion | null = null,
): Promise<Buffer> {
  const sharp = await loadSharp({ threads: source.threads })
  const swapped = swapsSides(source.orientation)
  const [storedWidth, storedHeight] = swapped ? [height, width] : [width, height]
  const whole = sharp(source.bytes, { failOn: 'none', limitInputPixels: MOST_PIXELS })
  const { storedWidth: across, storedHeight: down, orientation } = source
  const part = region === null ? whole : whole.extract(storedRegion(region, orientation, across, down))
  try {
    const { data } = await part
      .resize(storedWidth, storedHeight, { fit: 'fill', kernel: 'mitchell' })
      .flatten({ background: '#ffffff' })
      .toColourspace('srgb')
      .raw({ depth: 'uchar' })
      .toBuffer({ resolveWithObject: true })
    const colours = data.length === storedWidth * storedHeight ? threeOf(data) : data
    return Buffer.from(turnedSamples(colours, storedWidth, storedHeight, 3, source.orientation))
  } catch (error) {
    const reason = error instanceof Error ? (error.message.split('\n')[0] ?? '') : ''
    throw fault(stillSays['still-undecodable'](reason), { file: source.path })
  }
}

function threeOf(grey: Uint8Array): Uint8Array {
  const colours = new Uint8Array(3 * grey.length)
  for (let pixel = 0; pixel < grey.length; pixel++) colours.fill(grey[pixel]!, 3 * pixel, 3 * pixel + 3)
  return colours
}
