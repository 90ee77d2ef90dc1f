import type { StillView, WalkView } from '../../api.js'
import type { Assignment, Bulk } from '../state/pageState.js'
import { referenceHint } from '../state/referenceHint.js'
import { inTakingOrder, stillsInOrder } from '../state/stillsInOrder.js'

/** A mark and a light that a still may belong to, by what came before it. */
export interface Suggestion {
  readonly file: string
  readonly mark: string
  readonly light: string
}

/**
 * What unassigned stills likely are, in the order they were taken: a person walks from mark to mark in one light, then in the next. Starts after
 * the assigned still taken last before them, goes through the planned marks in the direction walked, then on to the next light; what
 * a still's own name tells goes before. Fewer suggestions than stills where the plan runs out.
 */
export function suggestAssignments(walk: WalkView, files: readonly string[]): readonly Suggestion[] {
  const wanted = new Set(files)
  const order = inTakingOrder(walk.stills.filter(({ state }) => state !== 'failed'))
  const taken: { mark: string; light: string }[] = []
  const suggestions: Suggestion[] = []
  for (const still of order) {
    if (still.state !== 'unassigned') {
      if (still.mark !== null && still.light !== null)
        taken.push({ mark: still.mark.text, light: still.light })
      continue
    }
    if (!wanted.has(still.file)) continue
    const next = nextPlace(walk, taken, still)
    if (next === null) continue
    taken.push(next)
    suggestions.push({ file: still.file, ...next })
  }
  return suggestions
}

function nextPlace(
  walk: WalkView,
  taken: readonly { readonly mark: string; readonly light: string }[],
  still: StillView,
): { mark: string; light: string } | null {
  const marks = walk.marks.map(({ text }) => text)
  const { byName } = still
  const last = taken.at(-1)
  const free = (light: string): string[] =>
    marks.filter((mark) => !taken.some((one) => one.mark === mark && one.light === light))
  const light =
    byName.light ??
    (last !== undefined && free(last.light).length > 0
      ? last.light
      : (walk.lights.find((one) => free(one).length > 0) ?? null))
  if (light === null) return null
  if (byName.mark !== null) return { mark: byName.mark.text, light }
  const open = free(light)
  const [first] = open
  if (first === undefined) return null
  const before = taken.filter((one) => one.light === light).slice(-2)
  if (before.length < 2) {
    const at = before.length === 0 ? -1 : marks.indexOf(before[0]!.mark)
    return { mark: open.find((mark) => marks.indexOf(mark) > at) ?? first, light }
  }
  const [a, b] = [marks.indexOf(before[0]!.mark), marks.indexOf(before[1]!.mark)]
  const onwards = b >= a ? open : [...open].reverse()
  const next = onwards.find((mark) => (b >= a ? marks.indexOf(mark) > b : marks.indexOf(mark) < b))
  return { mark: next ?? first, light }
}

/** Gives stills the planned marks one after another, nearest or farthest first, in the order they were taken, `each` of them a mark. */
function marksInOrder(
  walk: WalkView,
  files: readonly string[],
  from: 'nearest' | 'farthest',
  light: string | null,
  each: number,
): readonly Assigned[] {
  // What a still's own name says stays.
  const unnamed = walk.stills.filter(({ file, byName }) => files.includes(file) && byName.mark === null)
  const chosen = inTakingOrder(unnamed)
  const marks = from === 'nearest' ? walk.marks : [...walk.marks].reverse()
  return chosen.flatMap((still, index) => {
    const mark = marks[Math.floor(index / each)]
    if (mark === undefined) return []
    const { entry } = still
    const to = {
      mark: mark.text,
      light: light ?? entry?.light ?? still.light,
      reference: entry?.reference ?? null,
    }
    return [{ file: still.file, to }]
  })
}

/** A still and what it is to be assigned. */
interface Assigned {
  readonly file: string
  readonly to: Assignment
}

/** The stills of which nobody said the reference and whose names say one: what that is. */
export function namedReferences(walk: WalkView): readonly Assigned[] {
  return stillsInOrder(walk).flatMap((still) => {
    const { file, reference, entry, state } = still
    const named = reference === null && state !== 'failed' ? referenceHint(still, walk.references) : null
    if (named === null) return []
    return [{ file, to: { mark: entry?.mark ?? null, light: entry?.light ?? null, reference: named } }]
  })
}

/** What assigning stills all at once would do, `each` stills a mark. */
export function bulkAssignment(
  walk: WalkView,
  files: readonly string[],
  bulk: Bulk,
  light: string | null,
  each: number,
): readonly Assigned[] {
  if (bulk === 'named') return namedReferences(walk)
  if (bulk !== 'suggested') return marksInOrder(walk, files, bulk, light, each)
  const open = inTakingOrder(
    walk.stills.filter(({ file, state }) => files.includes(file) && state === 'unassigned'),
  )
  const leaders = open.filter((_, index) => index % each === 0).map(({ file }) => file)
  const likely = new Map(suggestAssignments(walk, leaders).map((one) => [one.file, one]))
  return open.flatMap((still, index) => {
    const one = likely.get(open[index - (index % each)]!.file)
    if (one === undefined) return []
    // What a still's own name says goes before.
    const mark = still.byName.mark?.text ?? one.mark
    const to = { mark, light: still.byName.light ?? one.light, reference: still.entry?.reference ?? null }
    return [{ file: still.file, to }]
  })
}

/** How many stills a mark likely has, by how many there are for the planned marks and lights: asked, never taken silently. */
export function likelyEach(walk: WalkView, count: number): number {
  return Math.max(1, Math.round(count / Math.max(1, walk.marks.length * Math.max(1, walk.lights.length))))
}
