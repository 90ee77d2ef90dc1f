import type { WalkResults, StillEntry } from '../../walk/schemas/resultsSchema.js'
import type { SheetCrop } from '../input/sheetInput.js'
import { loadSharp } from '../../still/loadSharp.js'
import { maskPolygon } from './maskPolygon.js'

// Blur over the reference's shorter side: strokes (an eighth of a plate's height) leave nothing above the last code value.
const SIGMA_OF_SHORT_SIDE = 0.5
const LARGEST_SIGMA = 900

/** The crop with the surface of its still's reference blurred past reading; the rest of the picture stays as it is. */
export async function maskReference(crop: SheetCrop, still: StillEntry): Promise<SheetCrop> {
  const sharp = await loadSharp({ threads: 1 })
  const { width, height, format } = await sharp(crop.image).metadata()
  const scaleX = width / crop.region.width
  const scaleY = height / crop.region.height
  const { polygon, shortSidePx } = maskPolygon(still)
  const points = polygon
    .map(([x, y]) => `${(x - crop.region.left) * scaleX},${(y - crop.region.top) * scaleY}`)
    .join(' ')
  const sigma = Math.min(LARGEST_SIGMA, Math.max(2, SIGMA_OF_SHORT_SIDE * shortSidePx * scaleX))
  const shape = Buffer.from(
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}"><polygon points="${points}" fill="#fff"/></svg>`,
  )
  const blurred = await sharp(crop.image).removeAlpha().blur(sigma).png().toBuffer()
  const surface = await sharp(blurred)
    .ensureAlpha()
    .composite([{ input: shape, blend: 'dest-in' }])
    .png()
    .toBuffer()
  const whole = sharp(crop.image)
    .composite([{ input: surface }])
    .removeAlpha()
  const image = await (format === 'png' ? whole.png() : whole.jpeg({ quality: 90 })).toBuffer()
  return { ...crop, image }
}

/** The crops with the surface of the reference blurred in each. */
export async function maskCrops(
  crops: readonly SheetCrop[],
  results: WalkResults,
): Promise<readonly SheetCrop[]> {
  const masked: SheetCrop[] = []
  for (const crop of crops) {
    const still = results.stills.find(({ file }) => file === crop.file)
    // A picture whose reference is not known cannot be masked, so it is not shown.
    if (still !== undefined) masked.push(await maskReference(crop, still))
  }
  return masked
}
