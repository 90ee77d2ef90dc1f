import type { WalkResults, StillEntry } from '../../walk/schemas/resultsSchema.js'
import type { SheetCrop, SheetInput } from '../input/sheetInput.js'
import { loadSharp } from '../../still/loadSharp.js'
import { maskPolygon } from './maskPolygon.js'
import { stillScalePxPerM } from './referenceExtent.js'

// Blur over the reference's shorter side: strokes (an eighth of a plate's height) leave nothing above the last code value.
const SIGMA_OF_SHORT_SIDE = 0.5
const LARGEST_SIGMA = 900
/** Blur of all that is not the reference, metres: over half a head, so that no face is left. This project's convention. */
const PEOPLE_SIGMA_M = 0.15
/** What stays beside a length, metres. */
const STAFF_M = 0.02

type SheetMask = Pick<SheetInput, 'maskPlates' | 'maskPeople'>

/** The crop masked: the surface of every reference measured on its still blurred past reading, or all but those surfaces, or both. */
export async function maskCrop(
  crop: SheetCrop,
  entries: readonly StillEntry[],
  mask: SheetMask,
): Promise<SheetCrop> {
  const sharp = await loadSharp({ threads: 1 })
  const { format } = await sharp(crop.image).metadata()
  const others = mask.maskPeople === true ? await blurredOthers(crop, entries) : crop.image
  const surfaces = mask.maskPlates
    ? await Promise.all(entries.map((entry) => blurredSurface(crop, entry)))
    : []
  const whole = sharp(others)
    .composite(surfaces.map((input) => ({ input })))
    .removeAlpha()
  const image = await (format === 'png' ? whole.png() : whole.jpeg({ quality: 90 })).toBuffer()
  return { ...crop, image }
}

/** The crop with a reference's surface blurred, all else clear. */
async function blurredSurface(crop: SheetCrop, entry: StillEntry): Promise<Buffer> {
  const { shortSidePx } = maskPolygon(entry)
  const blurred = await blurredBy(crop, SIGMA_OF_SHORT_SIDE * shortSidePx)
  return cutOut(blurred, await polygonSvg(crop, [entry], undefined))
}

/** The crop blurred but for the references' surfaces. */
async function blurredOthers(crop: SheetCrop, entries: readonly StillEntry[]): Promise<Buffer> {
  const sharp = await loadSharp({ threads: 1 })
  const scalePxPerM = Math.max(...entries.map(stillScalePxPerM))
  const kept = await cutOut(
    await sharp(crop.image).removeAlpha().png().toBuffer(),
    await polygonSvg(crop, entries, STAFF_M),
  )
  return sharp(await blurredBy(crop, PEOPLE_SIGMA_M * scalePxPerM))
    .composite([{ input: kept }])
    .png()
    .toBuffer()
}

/** The crop's picture blurred, opaque, as PNG; the sigma in px of the still. */
async function blurredBy(crop: SheetCrop, sigmaPx: number): Promise<Buffer> {
  const sharp = await loadSharp({ threads: 1 })
  const { width } = await sharp(crop.image).metadata()
  const sigma = Math.min(LARGEST_SIGMA, Math.max(2, (sigmaPx * width) / crop.region.width))
  return sharp(crop.image).removeAlpha().blur(sigma).png().toBuffer()
}

/** What of a picture lies inside a shape. */
async function cutOut(picture: Buffer, shape: Buffer): Promise<Buffer> {
  const sharp = await loadSharp({ threads: 1 })
  return sharp(picture)
    .ensureAlpha()
    .composite([{ input: shape, blend: 'dest-in' }])
    .png()
    .toBuffer()
}

/** The surfaces of references on a crop, filled. */
async function polygonSvg(
  crop: SheetCrop,
  entries: readonly StillEntry[],
  besideM: number | undefined,
): Promise<Buffer> {
  const sharp = await loadSharp({ threads: 1 })
  const { width, height } = await sharp(crop.image).metadata()
  const scaleX = width / crop.region.width
  const scaleY = height / crop.region.height
  const polygons = entries.map((entry) => {
    const points = maskPolygon(entry, besideM)
      .polygon.map(([x, y]) => `${(x - crop.region.left) * scaleX},${(y - crop.region.top) * scaleY}`)
      .join(' ')
    return `<polygon points="${points}" fill="#fff"/>`
  })
  return Buffer.from(
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}">${polygons.join('')}</svg>`,
  )
}

/** The crops masked; a picture with a reference whose place is not known cannot be masked, so it is not shown. */
export async function maskCrops(
  crops: readonly SheetCrop[],
  results: WalkResults,
  mask: SheetMask,
): Promise<readonly SheetCrop[]> {
  const masked: SheetCrop[] = []
  for (const crop of crops) {
    const entries = results.stills.filter(({ file }) => file === crop.file)
    const isWhole = entries.length > 0 && results.failed.every(({ file }) => file !== crop.file)
    if (isWhole) masked.push(await maskCrop(crop, entries, mask))
  }
  return masked
}
