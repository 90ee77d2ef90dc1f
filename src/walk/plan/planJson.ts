import { roundNumbers } from '../../units/roundNumbers.js'
import type { WalkPlan } from './planWalk.js'

/** What `plan --json` prints; lengths metres from the lens or below it (`distance.begins` added), densities px/m, null where the walk's data sheet does not tell. */
export interface PlanJson {
  readonly lens: {
    readonly p: number
    readonly pixelsPerRadian: number
    readonly edgePixelsPerRadian: number | null
    readonly rectilinearPixelsPerRadian: number | null
  } | null
  readonly marks: readonly {
    readonly distance: number
    readonly density: number | null
    readonly densityAtEdge: number | null
    readonly rectilinearDensity: number | null
    readonly widthOfView: number | null
  }[]
  readonly ranges: readonly { readonly grade: string; readonly distance: number | null }[]
  readonly contradictions: readonly {
    readonly code: string
    readonly message: string
    readonly relative: number
  }[]
  /** How the sheet was read: what bends, what had to be assumed, what its written digits leave. */
  readonly readings: readonly { readonly code: string; readonly message: string }[]
  /** The marks to measure out. */
  readonly tape: readonly number[]
  /** The paper whose chart is still found at the farthest of them; null where none is, or the lens is not told. */
  readonly paper: string | null
}

/** A plan as other programs read it. */
export function planJson(plan: WalkPlan): PlanJson {
  const lens = plan.reading?.lens ?? null
  return roundNumbers({
    lens:
      lens === null
        ? null
        : {
            p: lens.p,
            pixelsPerRadian: lens.pixelsPerRadian,
            edgePixelsPerRadian: plan.reading!.edgePixelsPerRadian,
            rectilinearPixelsPerRadian: plan.reading!.rectilinearPixelsPerRadian,
          },
    marks: plan.marks.map((mark) => ({
      distance: mark.distanceM,
      density: mark.densityPxPerM,
      densityAtEdge: mark.densityAtEdgePxPerM,
      rectilinearDensity: mark.rectilinearDensityPxPerM,
      widthOfView: mark.widthOfViewM,
    })),
    ranges: plan.ranges.map(({ grade, distanceM }) => ({ grade: grade.id, distance: distanceM })),
    contradictions: plan.contradictions.map(({ code, message, relative }) => ({ code, message, relative })),
    readings: plan.readings,
    tape: plan.marks.map(({ distanceM }) => distanceM),
    paper: plan.paper?.paper?.id ?? null,
  })
}
