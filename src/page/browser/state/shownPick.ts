import type { Point } from '../../../math/point.js'
import type { PagePick, ReferenceView, StillView } from '../../api.js'
import type { PageState } from './pageState.js'

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

/** A pick with other points, as a hand leaves them. */
export function handPick(reference: string | null, points: readonly Point[]): PagePick {
  return points.length === 2
    ? { reference, ends: [points[0]!, points[1]!], method: 'hand' }
    : { reference, corners: [points[0]!, points[1]!, points[2]!, points[3]!], method: 'hand' }
}

/** The pick without what the server says of it. */
export function bare({ reference, corners, ends, method, sigma, covariance }: PagePick): PagePick {
  return {
    reference,
    method,
    ...(corners === undefined ? {} : { corners }),
    ...(ends === undefined ? {} : { ends }),
    ...(sigma === undefined ? {} : { sigma }),
    ...(covariance === undefined ? {} : { covariance }),
  }
}

/** The reference a still is picked on: its own, else that of the pick before, else the walk's first. */
export function referenceOf(state: PageState, still: StillView): ReferenceView | null {
  const { walk, lastReference } = state
  if (walk === null) return null
  const named = pickOf(state, still)?.reference ?? still.reference ?? lastReference
  return walk.references.find(({ name }) => name === named) ?? walk.references[0] ?? null
}
