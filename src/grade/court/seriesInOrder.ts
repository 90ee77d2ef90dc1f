import { combineRepeats } from '../marks/combineRepeats.js'
import type { RangeConditions } from '../range/fitRange.js'
import { type FittedWalk, fitWalk } from './fitWalk.js'
import type { JudgedStill } from '../judgement.js'

/** The stills of a walk and how its distances were taped; lights and references stand in the walk's order, which is the order of all results. */
export interface MeasuredSeries extends RangeConditions {
  readonly stills: readonly JudgedStill[]
  readonly lights: readonly string[]
  readonly references: readonly string[]
}

/** The walk's series, one a light and reference with stills, in the walk's order: repeats combined to marks, the one constant fitted by what its court of causes found. */
export function seriesInOrder(walk: MeasuredSeries): FittedWalk {
  const lights = new Set([...walk.lights, ...walk.stills.map(({ light }) => light)])
  const references = new Set([...walk.references, ...walk.stills.map(({ reference }) => reference)])
  const all = [...lights].flatMap((light) =>
    [...references].flatMap((reference) => {
      const stills = walk.stills.filter((still) => still.light === light && still.reference === reference)
      if (stills.length === 0) return []
      return [{ light, reference, marks: combineRepeats(stills) }]
    }),
  )
  return fitWalk(all, walk)
}
