import type { WalkResults, StillEntry } from '../../walk/schemas/resultsSchema.js'
import type { SheetCrop } from '../input/sheetInput.js'
import { loadSharp } from '../../still/loadSharp.js'
import { maskPolygon } from './maskPolygon.js'

// Blur over the reference's shorter side: strokes (an eighth of a plate's height) leave nothing above the last code value.
const SIGMA_OF_SHORT_SIDE = 0.5
const LARGEST_SIGMA = 900

/** The crop with the surface of every reference measured on its still blurred past reading; the rest of the picture stays as it is. */
export async function maskReferences(crop: SheetCrop, entries: readonly StillEntry[]): Promise<SheetCrop> {
  const sharp = await loadSharp({ threads: 1 })
  const { format } = await sharp(crop.image).metadata()
  const surfaces = await Promise.all(entries.map((entry) => blurredSurface(crop, entry)))
  const whole = sharp(crop.image)
    .composite(surfaces.map((input) => ({ input })))
    .removeAlpha()
  const image = await (format === 'png' ? whole.png() : whole.jpeg({ quality: 90 })).toBuffer()
  return { ...crop, image }
}

async function blurredSurface(crop: SheetCrop, entry: StillEntry): Promise<Buffer> {
  const sharp = await loadSharp({ threads: 1 })
  const { width, height } = await sharp(crop.image).metadata()
  const scaleX = width / crop.region.width
  const scaleY = height / crop.region.height
  const { polygon, shortSidePx } = maskPolygon(entry)
  const points = polygon
    .map(([x, y]) => `${(x - crop.region.left) * scaleX},${(y - crop.region.top) * scaleY}`)
    .join(' ')
  const sigma = Math.min(LARGEST_SIGMA, Math.max(2, SIGMA_OF_SHORT_SIDE * shortSidePx * scaleX))
  const shape = Buffer.from(
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><polygon points="${points}" fill="#fff"/></svg>`,
  )
  const blurred = await sharp(crop.image).removeAlpha().blur(sigma).png().toBuffer()
  return sharp(blurred)
    .ensureAlpha()
    .composite([{ input: shape, blend: 'dest-in' }])
    .png()
    .toBuffer()
}

/** The crops with the surface of every known reference blurred in each, whichever of them the crop is of. */
export async function maskCrops(
  crops: readonly SheetCrop[],
  results: WalkResults,
): Promise<readonly SheetCrop[]> {
  const masked: SheetCrop[] = []
  for (const crop of crops) {
    const entries = results.stills.filter(({ file }) => file === crop.file)
    // A picture with a reference whose place is not known cannot be masked, so it is not shown.
    const isWhole = entries.length > 0 && results.failed.every(({ file }) => file !== crop.file)
    if (isWhole) masked.push(await maskReferences(crop, entries))
  }
  return masked
}
