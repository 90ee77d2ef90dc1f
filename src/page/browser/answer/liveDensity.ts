import { gradeFromDensity } from '../../../grade/gradings/gradeFromDensity.js'
import { measureDensity } from '../../../measure/density/density.js'
import type { MeasuredDensity } from '../../../measure/density/measuredDensity.js'
import { HAND_SIGMA_PX, type Pick } from '../../../measure/reference/pick.js'
import type { Outcome } from '../../../math/outcome.js'
import type { PagePick, ReferenceView, StillView, WalkView } from '../../api.js'

/** What a pick gives at once, by pixels: the density with its interval, and its grade. */
export interface LiveAnswer {
  readonly density: Outcome<MeasuredDensity>
  /** Id of the grade by pixels, or `none`; null without a density. */
  readonly gradeByPixels: string | null
}

type Asked = readonly [WalkView, StillView, ReferenceView, PagePick]
let last: { readonly asked: Asked; readonly answer: LiveAnswer | null } | null = null

/** Measures a pick in the browser, by the same core that measures the walk. What was asked last is not measured again: it is shown in two places. */
export function liveAnswer(...asked: Asked): LiveAnswer | null {
  if (last === null || asked.some((one, i) => one !== last!.asked[i]))
    last = { asked, answer: measured(...asked) }
  return last.answer
}

function measured(
  walk: WalkView,
  still: StillView,
  { reference }: ReferenceView,
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
  if (!density.ok) return { density, gradeByPixels: null }
  return { density, gradeByPixels: gradeFromDensity(density.value.density, walk.grading) }
}

function corePick(pick: PagePick): Pick | null {
  const noise = {
    method: pick.method,
    sigmaPx: pick.sigma ?? HAND_SIGMA_PX,
    ...(pick.covariance === undefined ? {} : { covariancePx2: pick.covariance }),
    ...(pick.doubts === undefined ? {} : { doubts: pick.doubts }),
  }
  if (pick.corners !== undefined) return { kind: 'corners', corners: pick.corners, ...noise }
  if (pick.ends !== undefined) return { kind: 'ends', ends: pick.ends, ...noise }
  return null
}
