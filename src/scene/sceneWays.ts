import type { PixelRegion } from '../still/raster.js'
import { featureMatches } from './featureMatches.js'
import { BY_GRADIENTS, BY_LIGHT, flowMatches } from './flowMatches.js'
import type { SceneMatches } from './sceneMatches.js'
import type { ScenePicture } from './scenePicture.js'

/** How two stills are registered: inside a light, from light to light, and where neither tells, by features, which finds an enlarged or cropped picture. */
export type SceneWay = 'inside' | 'between' | 'features'

/** How wide the pictures are that each way works on, px. */
export const WAY_WIDTH: Readonly<Record<SceneWay, number>> = { inside: 640, between: 960, features: 640 }

/** What of each of two stills is held against the other; null for all. */
export type ShownParts = readonly [PixelRegion | null, PixelRegion | null]

/**
 * The places of one still found again in another of the same size.
 * @throws an Error with OpenCV's own words where it fails
 */
export function matchesOf(way: SceneWay, one: ScenePicture, other: ScenePicture): SceneMatches {
  if (way === 'features') return featureMatches(one, other)
  return flowMatches(one, other, way === 'inside' ? BY_LIGHT : BY_GRADIENTS)
}
