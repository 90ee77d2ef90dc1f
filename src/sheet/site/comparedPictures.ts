import { join } from 'node:path'
import { ProofwalkError } from '../../errors.js'
import { lumaOf } from '../../still/luma.js'
import { openStill, type StillFile } from '../../still/openStill.js'
import type { PixelRegion } from '../../still/raster.js'
import type { StillEntry, WalkResults } from '../../walk/schemas/resultsSchema.js'
import { scenePairs, type ScenePair, type WalkWithResults } from '../../walk/site/sceneOfWalks.js'
import type { ComparedPictures } from '../input/sheetInput.js'
import { maskCrops } from '../pictures/maskReference.js'
import { seamRegion } from './seamRegion.js'

/** Whole pictures and the halves beside the seam are reduced to this, some 300 px to the inch on paper. */
const WHOLE_PX = 1000
const HALF_PX = 1000
const QUALITY = 88
/** The stills are looked at so small to find where there is something to see. */
const LOOKED_AT_PX = 192

/**
 * One still before and one after of a light, of the one asked for where it can be, whole and cut about a seam, what was measured on them blurred; null where no light has
 * two of one size whose files are still the measured ones, or their references cannot be masked.
 */
export async function comparedPictures(
  before: WalkWithResults,
  after: WalkWithResults,
  light: string | null,
): Promise<ComparedPictures | null> {
  const pairs = scenePairs(before.results, after.results)
  const pair = pairs.find((one) => one.light === light) ?? pairs[0]
  if (pair === undefined) return null
  const stills = [await openMeasured(before, pair.before), await openMeasured(after, pair.after)] as const
  if (stills[0] === null || stills[1] === null) return null
  const results = [before.results, after.results] as const
  return picturesOf(pair, [stills[0], stills[1]], results).catch((fault: unknown) => {
    if (fault instanceof ProofwalkError) return null
    throw fault
  })
}

async function openMeasured(
  { dir }: WalkWithResults,
  { file, sha256 }: StillEntry,
): Promise<StillFile | null> {
  const still = await openStill(join(dir, file))
  return still.ok && still.value.sha256 === sha256 ? still.value : null
}

async function picturesOf(
  { light, before, after }: ScenePair,
  stills: readonly [StillFile, StillFile],
  results: readonly [WalkResults, WalkResults],
): Promise<ComparedPictures | null> {
  const { width, height } = before
  const entries = [before, after] as const
  const cut = async (side: 0 | 1, region: PixelRegion, longestSidePx: number): Promise<Uint8Array | null> => {
    const { bytes, region: shown } = await stills[side].crop(region, {
      format: 'jpeg',
      quality: QUALITY,
      longestSidePx,
    })
    const { file, reference } = entries[side]
    const crops = [{ file, reference, image: bytes, region: shown }]
    const [masked] = await maskCrops(crops, results[side], { maskPlates: true })
    return masked?.image ?? null
  }
  const all = { left: 0, top: 0, width, height }
  const wholes = [await cut(0, all, WHOLE_PX), await cut(1, all, WHOLE_PX)] as const
  if (wholes[0] === null || wholes[1] === null) return null
  const looks = [await lookAt(stills[0], width, height), await lookAt(stills[1], width, height)] as const
  const carried = ([0, 1] as const).flatMap((side) =>
    results[side].stills.filter(({ file }) => file === entries[side].file).map(({ corners }) => corners),
  )
  const region = seamRegion(looks, { width, height }, carried)
  const half = { ...region, width: region.width / 2 }
  const left = await cut(0, half, HALF_PX)
  const right = await cut(1, { ...half, left: region.left + half.width }, HALF_PX)
  const aspect = height / width
  const seam = left === null || right === null ? null : { left, right, aspect: region.height / region.width }
  return { light, marksM: [before.distance, after.distance], wholes: [wholes[0], wholes[1]], aspect, seam }
}

async function lookAt(still: StillFile, width: number, height: number) {
  const [across, down] = [LOOKED_AT_PX, Math.max(1, Math.round((LOOKED_AT_PX * height) / width))]
  return { width: across, height: down, luma: lumaOf(await still.reduced(across, down), 3, 255) }
}
