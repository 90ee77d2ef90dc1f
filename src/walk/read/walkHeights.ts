import { groundUnderSight, sightOverGround } from '../../lens/groundView.js'
import type { Walk } from './walk.js'

/** How far the lens stands above the middle of a carried reference, metres; null where the walk does not tell both heights. */
export function dropToReferenceM(
  walk: Pick<Walk, 'camera' | 'references'>,
  reference: string,
): number | null {
  const carriedAtM = walk.references.find(({ name }) => name === reference)?.carriedAtM ?? null
  const { mountHeightM } = walk.camera
  return mountHeightM === null || carriedAtM === null ? null : mountHeightM - carriedAtM
}

/** The line of sight to a reference at a distance as taped, both metres: the same unless the walk is taped along the ground. */
export function lineOfSightM(
  walk: Pick<Walk, 'camera' | 'references' | 'distance'>,
  reference: string,
  distanceM: number,
): number {
  if (walk.distance.from === 'camera') return distanceM
  return sightOverGround(distanceM, dropToReferenceM(walk, reference) ?? 0)
}

/** The distance as taped for a line of sight to a reference, both metres; null where the reference is never that near. */
export function tapedDistanceM(
  walk: Pick<Walk, 'camera' | 'references' | 'distance'>,
  reference: string,
  sightM: number,
): number | null {
  if (walk.distance.from === 'camera') return sightM
  return groundUnderSight(sightM, dropToReferenceM(walk, reference) ?? 0)
}
