import { groupBy } from '../../math/groupBy.js'
import { combineRepeats } from '../marks/combineRepeats.js'
import { lendDetail } from '../marks/lendDetail.js'
import { ONE_MARK_M } from '../marks/markMeasurement.js'
import type { RangeConditions } from '../range/fitRange.js'
import { type FittedWalk, fitWalk } from './fitWalk.js'
import type { JudgedStill } from '../judgement.js'

/** The stills of a walk and how its distances were taped; lights and references stand in the walk's order, which is the order of all results. */
export interface MeasuredSeries extends RangeConditions {
  readonly stills: readonly JudgedStill[]
  readonly lights: readonly string[]
  readonly references: readonly string[]
}

/**
 * The walk's series, one a light and reference with stills, in the walk's order: repeats combined to marks, the one constant fitted by what the court of causes found.
 * Where it is said which f10 counts as full, marks without detail take it from another reference of their light.
 */
export function seriesInOrder(walk: MeasuredSeries, fullDetailAt: number | null = null): FittedWalk {
  const lights = new Set([...walk.lights, ...walk.stills.map(({ light }) => light)])
  const references = new Set([...walk.references, ...walk.stills.map(({ reference }) => reference)])
  const toleranceM = Math.max(ONE_MARK_M, walk.distanceToleranceM) + 1e-9
  const all = [...lights].flatMap((light) => {
    const own = [...references].flatMap((reference) =>
      combineRepeats(walk.stills.filter((still) => still.light === light && still.reference === reference)),
    )
    const marks = fullDetailAt === null ? own : lendDetail(own, { fullDetailAt, toleranceM })
    return [...groupBy(marks, ({ reference }) => reference)].map(([reference, ofIt]) => {
      return { light, reference, marks: ofIt }
    })
  })
  return fitWalk(all, walk)
}
