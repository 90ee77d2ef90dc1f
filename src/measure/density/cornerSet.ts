import { failure, success, type Outcome } from '../../math/outcome.js'
import type { Point, Quad } from '../../math/point.js'
import { measureSays } from '../sentences.js'

/** Corners in the order they are used: clockwise, the first being the reference's own top left. */
export interface CornerSet {
  readonly corners: Quad
  /** `corners[i]` is the given corner `order[i]`. */
  readonly order: readonly [number, number, number, number]
}

export type CornerFailure =
  | 'corners-not-finite'
  | 'corners-outside'
  | 'corners-coincident'
  | 'corners-collinear'
  | 'corners-crossed'
  | 'corners-not-convex'

/** Points nearer to each other than this count as one, px: this project's convention, two clicks' noise. */
export const COINCIDENT_PX = 1

/** Sine of the least bend at a corner: this project's convention, about half a degree. */
const LEAST_CORNER_SINE = 0.01

/**
 * Checks four corners (px) and brings them into order. The first is kept; a set that runs anticlockwise in the image is reversed. Never sorted by
 * position: a reference turned by 90 degrees keeps its own top left. Refuses, by name, a set that is no convex quadrilateral inside the still of the given size.
 */
export function orderCorners(
  given: Quad,
  stillWidth: number,
  stillHeight: number,
): Outcome<CornerSet, CornerFailure> {
  if (!given.flat().every(Number.isFinite)) {
    return failure(measureSays['corners-not-finite']())
  }
  const outside = given.findIndex(([x, y]) => x < 0 || y < 0 || x > stillWidth || y > stillHeight)
  if (outside >= 0) {
    const [x, y] = given[outside]!
    return failure(measureSays['corners-outside'](outside + 1, x, y, stillWidth, stillHeight))
  }
  for (let i = 0; i < 4; i++) {
    for (let j = i + 1; j < 4; j++) {
      if (Math.hypot(given[i]![0] - given[j]![0], given[i]![1] - given[j]![1]) < COINCIDENT_PX) {
        return failure(measureSays['corners-coincident'](i + 1, j + 1))
      }
    }
  }
  const turns = [0, 1, 2, 3].map((i) => turnSine(given[(i + 3) % 4]!, given[i]!, given[(i + 1) % 4]!))
  const straight = turns.findIndex((turn) => Math.abs(turn) < LEAST_CORNER_SINE)
  if (straight >= 0) {
    return failure(measureSays['corners-collinear'](straight + 1))
  }
  const clockwise = turns.filter((turn) => turn > 0).length
  if (clockwise === 2) {
    return failure(measureSays['corners-crossed']())
  }
  if (clockwise === 1 || clockwise === 3) {
    const odd = turns.findIndex((turn) => turn > 0 === (clockwise === 1))
    return failure(measureSays['corners-not-convex'](odd + 1))
  }
  const order = clockwise === 4 ? ([0, 1, 2, 3] as const) : ([0, 3, 2, 1] as const)
  return success({ corners: [given[order[0]], given[order[1]], given[order[2]], given[order[3]]], order })
}

/** Sine of the turn at `at`, positive for a turn to the right as seen in the image (y down). */
function turnSine(before: Point, at: Point, after: Point): number {
  const inX = at[0] - before[0]
  const inY = at[1] - before[1]
  const outX = after[0] - at[0]
  const outY = after[1] - at[1]
  return (inX * outY - inY * outX) / (Math.hypot(inX, inY) * Math.hypot(outX, outY))
}
