import { failure, success, type Outcome } from '../../math/outcome.js'
import type { Ends } from '../../math/point.js'
import { COINCIDENT_PX } from './cornerSet.js'
import { measureSays } from '../sentences.js'

export type EndFailure = 'ends-not-finite' | 'ends-outside' | 'ends-coincident'

/** Checks the two ends (px) of a length: inside the still of the given size and apart. */
export function checkEnds(ends: Ends, stillWidth: number, stillHeight: number): Outcome<Ends, EndFailure> {
  if (!ends.flat().every(Number.isFinite)) return failure(measureSays['ends-not-finite']())
  const outside = ends.findIndex(([x, y]) => x < 0 || y < 0 || x > stillWidth || y > stillHeight)
  if (outside >= 0) {
    const [x, y] = ends[outside]!
    return failure(measureSays['ends-outside'](outside + 1, x, y, stillWidth, stillHeight))
  }
  if (Math.hypot(ends[1][0] - ends[0][0], ends[1][1] - ends[0][1]) < COINCIDENT_PX) {
    return failure(measureSays['ends-coincident']())
  }
  return success(ends)
}
