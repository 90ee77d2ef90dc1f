import { ProofwalkError } from '../../errors.js'
import type { Outcome } from '../../math/outcome.js'
import { loadSharp } from '../../still/loadSharp.js'
import type { StillFile } from '../../still/openStill.js'
import type { PixelRegion } from '../../still/raster.js'
import type { StillEntry, WalkResults } from '../../walk/schemas/resultsSchema.js'
import { cropPlan } from './cropPlan.js'
import type { SheetCrop } from '../input/sheetInput.js'

/** Up to this many px a side a crop is kept pixel by pixel (PNG); above it is a JPEG. */
const KEPT_SIDE_PX = 300
/** Small crops are enlarged by whole factors to at least this, so that no viewer smooths their pixels away. */
const SHOWN_SIDE_PX = 360
/** Larger crops are reduced to this, some 300 px to the inch on paper. */
const LONGEST_SIDE_PX = 520
const QUALITY = 88

/**
 * Cuts every picture the sheet plans out of its still. `open` opens a still by its path as in `results.stills[].file`; a still
 * that cannot be opened has no picture, and its cell says so. Crops carry no EXIF. The same stills give the same bytes.
 */
export async function cutCrops(
  results: WalkResults,
  open: (file: string) => Promise<Outcome<Pick<StillFile, 'crop'>>>,
): Promise<SheetCrop[]> {
  const crops: SheetCrop[] = []
  for (const cell of cropPlan(results).flatMap(({ rows }) => rows.flatMap(({ cells }) => cells))) {
    if (cell === null || cell.region === null) continue
    const still = await open(cell.still.file)
    if (!still.ok) continue
    const crop = await cutCrop(still.value, cell.still, cell.region)
    if (crop !== null) crops.push(crop)
  }
  return crops
}

async function cutCrop(
  still: Pick<StillFile, 'crop'>,
  entry: StillEntry,
  region: PixelRegion,
): Promise<SheetCrop | null> {
  try {
    return { file: entry.file, reference: entry.reference, ...(await cutAtItsSize(still, region)) }
  } catch (fault) {
    if (fault instanceof ProofwalkError) return null
    throw fault
  }
}

async function cutAtItsSize(
  still: Pick<StillFile, 'crop'>,
  region: PixelRegion,
): Promise<Pick<SheetCrop, 'image' | 'region'>> {
  const longest = Math.max(region.width, region.height)
  if (longest > KEPT_SIDE_PX) {
    const options = { format: 'jpeg', quality: QUALITY, longestSidePx: LONGEST_SIDE_PX } as const
    const { bytes, region: cut } = await still.crop(region, options)
    return { image: bytes, region: cut }
  }
  const { bytes, width, height, region: cut } = await still.crop(region, { format: 'png' })
  const factor = Math.max(1, Math.ceil(SHOWN_SIDE_PX / longest))
  if (factor === 1) return { image: bytes, region: cut }
  const sharp = await loadSharp({ threads: 1 })
  const image = await sharp(bytes)
    .resize({ width: width * factor, height: height * factor, kernel: 'nearest', fit: 'fill' })
    .png({ compressionLevel: 9 })
    .toBuffer()
  return { image, region: cut }
}
