import { halveBytes } from '../../still/searchBytes.js'
import { fittedTemplate } from './fittedTemplate.js'
import { lookAt, type ChartLook } from '../match/chartLook.js'
import { noiseScale } from '../match/greyImage.js'
import { matchRoom, refineMatch } from '../match/matchChart.js'
import { composeHomographies, movedHomography, type Homography } from '../../math/homography.js'
import { FITTED_BELOW, pixelsPerModule, regionAround } from './smallChart.js'
import { searchPicture, type SearchPicture } from './searchPicture.js'
import { searchTemplates } from '../match/searchTemplates.js'

/** Steps of the refinement at the closer look, and what it leaves out of a partly covered chart: residuals over so many median ones. */
const CLOSER_STEPS = 5
const CLOSER_TRIM = 3.5

/** The look at the chart's surroundings at their own scale, or halved to 4 to 8 pixels to a module, with the map put right there. */
export function closerLook(
  picture: SearchPicture,
  map: Homography,
  face: number,
  mask: Uint8Array,
  blurPx?: readonly [number, number],
): (ChartLook & { readonly map: Homography }) | null {
  const region = picture.lumaRegion(regionAround(map))
  let image = searchPicture(region).searchBytes()
  let shrink = 1
  for (; pixelsPerModule(map) / shrink >= 2 * FITTED_BELOW; shrink *= 2) image = halveBytes(image)
  const toScale = Float64Array.of(1 / shrink, 0, 0, 0, 1 / shrink, 0, 0, 0, 1)
  const fromScale = Float64Array.of(shrink, 0, 0, 0, shrink, 0, 0, 0, 1)
  let local = composeHomographies(toScale, movedHomography(map, -region.left, -region.top))
  // A small chart's map is the fit's already, and a covered one's was found without what covers it.
  const whole = mask === searchTemplates().sets[0]!.common.everySample
  if (pixelsPerModule(map) >= FITTED_BELOW) {
    const template = searchTemplates().sets[1]!.face(face)
    const options = { steps: CLOSER_STEPS, ...(whole ? {} : { trim: CLOSER_TRIM }) }
    local = refineMatch(image, local, template, options, matchRoom(mask.length))?.map ?? local
  }
  const noiseVariance = (4 / 9) * noiseScale(image) ** 2
  const fitted = blurPx && fittedTemplate(local, Math.log2(shrink), face, blurPx)
  const look = lookAt(image, local, face, mask, noiseVariance, fitted)
  if (look === null) return null
  return { ...look, map: movedHomography(composeHomographies(fromScale, local), region.left, region.top) }
}
