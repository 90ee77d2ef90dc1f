import type { PixelRegion } from '../still/raster.js'
import { featureMatches } from './featureMatches.js'
import { BY_GRADIENTS, BY_LIGHT, flowMatches } from './flowMatches.js'
import type { SceneMatches } from './sceneMatches.js'
import { type ReducibleStill, scenePicture } from './scenePicture.js'

/** How two stills are registered: inside a light, from light to light, and where neither tells, by features, which finds an enlarged or cropped picture. */
export type SceneWay = 'inside' | 'between' | 'features'

/** How wide the pictures are that each way works on, px. */
export const WAY_WIDTH: Readonly<Record<SceneWay, number>> = { inside: 640, between: 960, features: 640 }

/** What of each of two stills is held against the other; null for all. */
export type ShownParts = readonly [PixelRegion | null, PixelRegion | null]

/**
 * The places of one still found again in another of the same size.
 * @throws `ProofwalkError` `still-damaged` where pixels are spoilt; an Error with OpenCV's own words where it fails
 */
export async function matchesOf(
  way: SceneWay,
  stills: readonly [ReducibleStill, ReducibleStill],
  parts: ShownParts,
): Promise<SceneMatches> {
  const [one, other] = [
    await scenePicture(stills[0], WAY_WIDTH[way], parts[0]),
    await scenePicture(stills[1], WAY_WIDTH[way], parts[1]),
  ]
  if (way === 'features') return featureMatches(one, other)
  return flowMatches(one, other, way === 'inside' ? BY_LIGHT : BY_GRADIENTS)
}
