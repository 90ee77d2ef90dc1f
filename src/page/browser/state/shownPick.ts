import type { Point } from '../../../math/point.js'
import type { PagePick, ReferenceView, StillView } from '../../api.js'
import { HAND_SIGMA_PX } from '../../../measure/reference/pick.js'
import type { Click, Draft, PageState, UnsavedPick } from './pageState.js'

/** The still with a path; null where there is none. */
export function stillOf(state: PageState, file: string | null): StillView | null {
  return state.walk?.stills.find((still) => still.file === file) ?? null
}

/** Whether two names of references mean one: none is the walk's only one. */
export function isSameReference({ walk }: PageState, one: string | null, other: string | null): boolean {
  const only = walk?.references.length === 1 ? walk.references[0]!.name : null
  return (one ?? only) === (other ?? only)
}

/** The picks of a still as the person last left them, saved or not, one a reference. One made on another version of the file is none. */
export function picksOf(state: PageState, still: StillView): readonly PagePick[] {
  const unsaved = unsavedOf(state, still.file)
  const saved = still.picks.filter(
    ({ stale, reference }) =>
      !stale && !unsaved.some((change) => isSameReference(state, change.reference, reference)),
  )
  return [...saved, ...unsaved.flatMap(({ pick }) => pick ?? [])]
}

/** What of a still's picks the server does not hold yet. */
function unsavedOf({ unsaved }: PageState, file: string): readonly UnsavedPick[] {
  return unsaved.flatMap((change) => (change.kind === 'pick' && change.file === file ? [change] : []))
}

/** The pick of a still of the reference at hand; where that is none of the walk's, the first, whose own the walk may have lost. */
export function pickOf(state: PageState, still: StillView): PagePick | null {
  const reference = referenceOf(state, still)
  const picks = picksOf(state, still)
  if (reference === null) return picks[0] ?? null
  return picks.find((pick) => isSameReference(state, pick.reference, reference.name)) ?? null
}

/** Whether a still has a pick that will be measured. */
export function isPicked(state: PageState, still: StillView): boolean {
  return picksOf(state, still).some(({ reference }) => referenceNamed(state, reference) !== null)
}

/** The chart found in a still, where it is the reference at hand. */
export function chartAtHand(state: PageState, still: StillView): StillView['chart'] {
  return still.chart?.reference === referenceOf(state, still)?.name ? still.chart : null
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

/** What is begun of the reference at hand where it is not picked; null where there is a pick, or nothing. */
export function draftOf(state: PageState, still: StillView): Draft | null {
  if (pickOf(state, still) !== null) return null
  const name = referenceOf(state, still)?.name
  return state.drafts.find(({ file, reference }) => file === still.file && reference === name) ?? null
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

/** The reference of a still that is at hand: the one turned to, else the first picked or begun, else the chart found, else as told, else the walk's only one; null where nobody said. */
export function referenceOf(state: PageState, still: StillView): ReferenceView | null {
  const turnedTo = state.atHand.get(still.file)
  if (turnedTo !== undefined) return referenceNamed(state, turnedTo)
  const [first] = picksOf(state, still)
  const begun = state.drafts.find(({ file }) => file === still.file)
  return referenceNamed(state, first?.reference ?? begun?.reference ?? still.reference)
}

/** A reference of the walk by its name, null meaning its only one; null where there is none. */
function referenceNamed({ walk }: PageState, name: string | null): ReferenceView | null {
  if (walk === null) return null
  const only = walk.references.length === 1 ? walk.references[0]! : null
  return name === null ? only : (walk.references.find((one) => one.name === name) ?? null)
}
