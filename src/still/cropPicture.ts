import { clampRegion, type PixelRegion } from './raster.js'
import { coloursOf } from './luma.js'
import { decodeRegion, type PictureSource } from './decodeRegion.js'
import { loadSharp } from './loadSharp.js'
import { swapsSides } from './turn.js'

/** How a crop is written. */
export interface CropOptions {
  readonly format: 'png' | 'jpeg'
  /** JPEG quality 1 to 100; 90 unless given. */
  readonly quality?: number
  /** The crop is made smaller (never larger) until its longer side has no more than this many px. */
  readonly longestSidePx?: number
}

/** A crop as a picture file of its own. */
export interface CroppedPicture {
  readonly bytes: Buffer
  /** Size of the written picture, px. */
  readonly width: number
  readonly height: number
  /** The region of the still it shows. */
  readonly region: PixelRegion
}

/**
 * Cuts a region (as displayed, clamped to the still) out as an 8-bit picture of three colours in sRGB, what is not opaque over white.
 * It carries no EXIF, no place, no thumbnail and no profile: nothing but pixels. The same still gives the same bytes.
 */
export async function cropPicture(
  source: PictureSource,
  region: PixelRegion,
  options: CropOptions,
): Promise<CroppedPicture> {
  const swapped = swapsSides(source.orientation)
  const width = swapped ? source.storedHeight : source.storedWidth
  const height = swapped ? source.storedWidth : source.storedHeight
  const cut = clampRegion(region, width, height)
  const { samples, channels } = await decodeRegion(source, cut)
  const colours = coloursOf(samples, channels, source.fullScale)
  const sharp = await loadSharp({ threads: source.threads })
  let picture = sharp(colours, { raw: { width: cut.width, height: cut.height, channels: 3 } })
  if (options.longestSidePx !== undefined) {
    const side = Math.max(1, Math.floor(options.longestSidePx))
    picture = picture.resize({ width: side, height: side, fit: 'inside', withoutEnlargement: true })
  }
  const written =
    options.format === 'png'
      ? picture.png({ compressionLevel: 9 })
      : picture.jpeg({ quality: options.quality ?? 90, chromaSubsampling: '4:4:4' })
  const { data, info } = await written.toBuffer({ resolveWithObject: true })
  return { bytes: data, width: info.width, height: info.height, region: cut }
}
