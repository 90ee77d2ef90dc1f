import { decide } from '../../grade/decide.js'
import { gradeFromDensity } from '../../grade/gradeFromDensity.js'
import type { GradePromise, Verdict } from '../../grade/judgement.js'
import { measureDensity, type MeasuredDensity } from '../../measure/density.js'
import { HAND_SIGMA_PX, type Pick } from '../../measure/pick.js'
import type { Outcome } from '../../math/outcome.js'
import { isSameMark } from '../../walk/sameMark.js'
import type { PagePick, ReferenceView, StillView, WalkView } from '../api.js'

/** What a pick gives at once, by pixels: the density with its interval, its grade, and what becomes of the promises there. */
export interface LiveAnswer {
  readonly density: Outcome<MeasuredDensity>
  /** Id of the grade by pixels, or `none`; null without a density. */
  readonly gradeByPixels: string | null
  readonly promises: readonly {
    readonly promise: GradePromise
    readonly limit: number
    readonly verdict: Verdict
  }[]
}

/** Measures a pick in the browser, by the same core that measures the walk. */
export function liveAnswer(
  walk: WalkView,
  still: StillView,
  { name, reference }: ReferenceView,
  pick: PagePick,
): LiveAnswer | null {
  const { head } = still
  const points = corePick(pick)
  if (head === null || points === null) return null
  const density = measureDensity(reference, points, {
    stillWidth: head.width,
    stillHeight: head.height,
    distanceM: still.mark?.lineOfSightM ?? null,
  })
  if (!density.ok) return { density, gradeByPixels: null, promises: [] }
  const interval = density.value.density
  const promises = walk.promises
    .filter(
      (promise) =>
        promise.light === still.light &&
        still.mark !== null &&
        isSameMark(promise.distanceM, still.mark.distanceM) &&
        (promise.reference === undefined || promise.reference === name),
    )
    .map((promise) => {
      const limit = walk.grading.grades.find(({ id }) => id === promise.grade)?.limit ?? Infinity
      return { promise, limit, verdict: decide(interval, limit) }
    })
  return { density, gradeByPixels: gradeFromDensity(interval, walk.grading), promises }
}

function corePick(pick: PagePick): Pick | null {
  const noise = {
    method: pick.method,
    sigmaPx: pick.sigma ?? HAND_SIGMA_PX,
    ...(pick.covariance === undefined ? {} : { covariancePx2: pick.covariance }),
  }
  if (pick.corners !== undefined) return { kind: 'corners', corners: pick.corners, ...noise }
  if (pick.ends !== undefined) return { kind: 'ends', ends: pick.ends, ...noise }
  return null
}
