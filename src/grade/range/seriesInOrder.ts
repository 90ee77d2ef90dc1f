import { combineRepeats } from '../marks/combineRepeats.js'
import { fitRange, type RangeConditions } from './fitRange.js'
import type { JudgedStill } from '../judgement.js'
import type { Series } from './series.js'

/** The stills of a walk and how its distances were taped; lights and references stand in the walk's order, which is the order of all results. */
export interface MeasuredSeries extends RangeConditions {
  readonly stills: readonly JudgedStill[]
  readonly lights: readonly string[]
  readonly references: readonly string[]
}

/** The walk's series, one a light and reference with stills, in the walk's order: repeats combined to marks, the one constant fitted. */
export function seriesInOrder(walk: MeasuredSeries): Series[] {
  const lights = new Set([...walk.lights, ...walk.stills.map(({ light }) => light)])
  const references = new Set([...walk.references, ...walk.stills.map(({ reference }) => reference)])
  return [...lights].flatMap((light) =>
    [...references].flatMap((reference): Series[] => {
      const stills = walk.stills.filter((still) => still.light === light && still.reference === reference)
      if (stills.length === 0) return []
      const marks = combineRepeats(stills)
      return [{ light, reference, marks, fit: fitRange(marks, walk) }]
    }),
  )
}
