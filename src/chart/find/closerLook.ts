import { clampRegion } from '../../still/raster.js'
import type { ByteImage } from '../../still/searchBytes.js'
import { fittedTemplate } from './fittedTemplate.js'
import { lookAt, type ChartLook } from '../match/chartLook.js'
import { noiseScale } from '../match/greyImage.js'
import { matchRoom, refineMatch } from '../match/matchChart.js'
import { composeHomographies, movedHomography, type Homography } from '../../math/homography.js'
import { FITTED_BELOW, pixelsPerModule, regionAround } from './smallChart.js'
import { searchPicture, type SearchPicture } from './searchPicture.js'
import type { SearchScales } from './searchScale.js'
import { searchTemplates } from '../match/searchTemplates.js'

/** Steps of the refinement at the closer look, and what it leaves out of a partly covered chart: residuals over so many median ones. */
const CLOSER_STEPS = 5
const CLOSER_TRIM = 3.5

/** The look at the chart's surroundings where they have 4 to 8 pixels to a module, or as many as there are, with the map put right there. */
export function closerLook(
  picture: SearchPicture,
  scales: SearchScales,
  map: Homography,
  face: number,
  mask: Uint8Array,
  blurPx?: readonly [number, number],
): (ChartLook & { readonly map: Homography }) | null {
  const finest = Math.floor(Math.log2(pixelsPerModule(map) / FITTED_BELOW))
  const level = Math.min(scales.count - 1, Math.max(0, finest))
  const shrink = 2 ** level
  const { left, top, image } = surroundings(picture, scales, level, map)
  const toScale = Float64Array.of(1 / shrink, 0, 0, 0, 1 / shrink, 0, 0, 0, 1)
  const fromScale = Float64Array.of(shrink, 0, 0, 0, shrink, 0, 0, 0, 1)
  let local = movedHomography(composeHomographies(toScale, map), -left, -top)
  // A small chart's map is the fit's already, and a covered one's was found without what covers it.
  const whole = mask === searchTemplates().sets[0]!.common.everySample
  if (pixelsPerModule(map) >= FITTED_BELOW) {
    const template = searchTemplates().sets[1]!.face(face)
    const options = { steps: CLOSER_STEPS, ...(whole ? {} : { trim: CLOSER_TRIM }) }
    local = refineMatch(image, local, template, options, matchRoom(mask.length))?.map ?? local
  }
  const noiseVariance = (4 / 9) * noiseScale(image) ** 2
  const fitted = blurPx && fittedTemplate(local, level, face, blurPx)
  const look = lookAt(image, local, face, mask, noiseVariance, fitted)
  if (look === null) return null
  return { ...look, map: composeHomographies(fromScale, movedHomography(local, left, top)) }
}

/** What lies around the chart at a scale, and where it begins there, px; at the still's own from its exact luma, so that this scale need not be made. */
function surroundings(
  picture: SearchPicture,
  scales: SearchScales,
  level: number,
  map: Homography,
): { readonly left: number; readonly top: number; readonly image: ByteImage } {
  const around = regionAround(map)
  if (level === 0) {
    const region = picture.lumaRegion(around)
    return { left: region.left, top: region.top, image: searchPicture(region).searchBytes() }
  }
  const { width, data, height } = scales.at(level).image
  const share = 2 ** -level
  const asked = {
    left: share * around.left,
    top: share * around.top,
    width: share * around.width,
    height: share * around.height,
  }
  const region = clampRegion(asked, width, height)
  const cut = new Uint8Array(region.width * region.height)
  for (let row = 0; row < region.height; row += 1) {
    const from = (region.top + row) * width + region.left
    cut.set(data.subarray(from, from + region.width), row * region.width)
  }
  return { left: region.left, top: region.top, image: { ...region, data: cut } }
}
