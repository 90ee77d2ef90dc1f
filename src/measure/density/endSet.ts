import { failure, success, type Outcome } from '../../math/outcome.js'
import type { Ends } from '../../math/point.js'
import { COINCIDENT_PX } from './cornerSet.js'

export type EndFailure = 'ends-not-finite' | 'ends-outside' | 'ends-coincident'

/** Checks the two ends (px) of a length: inside the still of the given size and apart. */
export function checkEnds(ends: Ends, stillWidth: number, stillHeight: number): Outcome<Ends, EndFailure> {
  if (!ends.flat().every(Number.isFinite))
    return failure('ends-not-finite', 'an end is not a pair of numbers')
  const outside = ends.findIndex(([x, y]) => x < 0 || y < 0 || x > stillWidth || y > stillHeight)
  if (outside >= 0) {
    const [x, y] = ends[outside]!
    return failure(
      'ends-outside',
      `end ${outside + 1} at ${x}, ${y} lies outside the still of ${stillWidth} x ${stillHeight} px`,
    )
  }
  if (Math.hypot(ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]) < COINCIDENT_PX) {
    return failure('ends-coincident', 'the two ends are less than a pixel apart')
  }
  return success(ends)
}
