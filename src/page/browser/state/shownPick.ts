import type { Point } from '../../../math/point.js'
import type { PagePick, ReferenceView, StillView } from '../../api.js'
import { HAND_SIGMA_PX } from '../../../measure/reference/pick.js'
import type { Click, Draft, PageState } from './pageState.js'

/** The still with a path; null where there is none. */
export function stillOf(state: PageState, file: string | null): StillView | null {
  return state.walk?.stills.find((still) => still.file === file) ?? null
}

/** The pick of a still as the person last left it, saved or not. A pick made on another version of the file is none. */
export function pickOf(state: PageState, still: StillView): PagePick | null {
  const unsaved = state.unsaved.find((change) => change.kind === 'pick' && change.file === still.file)
  if (unsaved?.kind === 'pick') return unsaved.pick
  return still.pick === null || still.pick.stale ? null : still.pick
}

/** The points of a pick, px. */
export function pointsOf(pick: PagePick): readonly Point[] {
  return pick.corners ?? pick.ends ?? []
}

/** A pick as a hand placed its points; what a fit doubted of it before stays. */
export function handPick(
  reference: string | null,
  clicks: readonly Click[],
  doubts: PagePick['doubts'] = undefined,
): PagePick {
  const points = clicks.map(({ point }) => point)
  const sigmas = clicks.map(({ sigmaPx }) => sigmaPx)
  const greatest = Math.max(...sigmas)
  const own = {
    reference,
    method: 'hand',
    sigma: greatest,
    ...(sigmas.every((sigma) => sigma === greatest) ? {} : { covariance: ownScatter(sigmas) }),
    ...(doubts === undefined ? {} : { doubts }),
  } as const
  return points.length === 2
    ? { ...own, ends: [points[0]!, points[1]!] }
    : { ...own, corners: [points[0]!, points[1]!, points[2]!, points[3]!] }
}

function ownScatter(sigmas: readonly number[]): number[][] {
  const axes = sigmas.flatMap((sigma) => [sigma ** 2, sigma ** 2])
  return axes.map((variance, i) => axes.map((_, j) => (i === j ? variance : 0)))
}

/** The points of a pick as a hand would have placed them: no better than a hand does. */
export function clicksOf(pick: PagePick): readonly Click[] {
  return pointsOf(pick).map((point, i) => {
    const own = pick.covariance?.[2 * i]?.[2 * i]
    return { point, sigmaPx: Math.max(HAND_SIGMA_PX, own === undefined ? (pick.sigma ?? 0) : Math.sqrt(own)) }
  })
}

/** What is begun on a still where nothing is picked; null where there is a pick, or nothing. */
export function draftOf(state: PageState, still: StillView): Draft | null {
  return pickOf(state, still) === null ? (state.drafts.get(still.file) ?? null) : null
}

/** The pick without what the server says of it. */
export function bare({ reference, corners, ends, method, sigma, covariance, doubts }: PagePick): PagePick {
  return {
    reference,
    method,
    ...(corners === undefined ? {} : { corners }),
    ...(ends === undefined ? {} : { ends }),
    ...(sigma === undefined ? {} : { sigma }),
    ...(covariance === undefined ? {} : { covariance }),
    ...(doubts === undefined ? {} : { doubts }),
  }
}

/** The reference a still is picked on: by its pick, else as begun, else as told, else the walk's only one; null where nobody said. */
export function referenceOf(state: PageState, still: StillView): ReferenceView | null {
  const { walk } = state
  if (walk === null) return null
  const named = pickOf(state, still)?.reference ?? draftOf(state, still)?.reference ?? still.reference
  const only = walk.references.length === 1 ? walk.references[0]! : null
  return named === null ? only : (walk.references.find(({ name }) => name === named) ?? null)
}
