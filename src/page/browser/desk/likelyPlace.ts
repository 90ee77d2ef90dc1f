import type { Point } from '../../../math/point.js'
import type { Size } from './stillWindow.js'

/** Where a reference was picked on another still: the middle of its points and its width in the picture, px, and its distance, m. */
export interface PickedPlace {
  readonly distanceM: number
  readonly middle: Point
  readonly widthPx: number
}

/** Where it is likely to be on this one, and how far from there it may well be, px. */
export interface LikelyPlace {
  readonly middle: Point
  readonly widthPx: number
  readonly withinPx: number
}

/** With one pick alone nobody knows how far the camera is tilted: the line walked may end this far from the still's middle, as a share of its height. */
const TILT_SHARE = 0.3

/**
 * Where the reference likely is at `distanceM`: it is carried along a straight line, so the place of its middle in the picture goes with
 * one over the distance (exactly so under a lens without bend), as its width does. A line through the two places nearest in one over
 * the distance; with one alone, a line from it to the still's middle. Null without any.
 */
export function likelyPlace(
  distanceM: number,
  picked: readonly PickedPlace[],
  still: Size,
): LikelyPlace | null {
  const near = [...picked].sort(
    (a, b) => Math.abs(1 / a.distanceM - 1 / distanceM) - Math.abs(1 / b.distanceM - 1 / distanceM),
  )
  const [first] = near
  if (first === undefined) return null
  const widthPx = (first.widthPx * first.distanceM) / distanceM
  const second = near.find(
    ({ distanceM: other }) => Math.abs(1 / other - 1 / first.distanceM) > 0.05 / first.distanceM,
  )
  const far = second ?? { distanceM: Infinity, middle: [still.width / 2, still.height / 2] as Point }
  const share = (1 / distanceM - 1 / first.distanceM) / (1 / far.distanceM - 1 / first.distanceM)
  const along = (i: 0 | 1): number => first.middle[i] + share * (far.middle[i] - first.middle[i])
  return {
    middle: [along(0), along(1)],
    widthPx,
    // A second pick leaves little more than how steadily it was carried: this project's convention, a width.
    withinPx: second === undefined ? TILT_SHARE * still.height * Math.abs(share) + widthPx / 2 : widthPx,
  }
}
