import type { StillView, WalkView } from '../../api.js'

/** Stills under one head of the strip. */
export interface StillGroup {
  readonly name: string
  readonly stills: readonly StillView[]
}

/** The strip: what is unassigned first, as it needs a hand; then light by light, nearest mark first; what cannot be opened last. */
export function stillGroups(walk: WalkView): readonly StillGroup[] {
  const unassigned = inTakingOrder(walk.stills.filter(({ state }) => state === 'unassigned'))
  const failed = walk.stills.filter((still) => still.state === 'failed' && !isPlaced(still))
  const placed = walk.stills.filter((still) => isPlaced(still) && still.state !== 'unassigned')
  const lights = [...new Set([...walk.lights, ...placed.map(({ light }) => light ?? '')])]
  return [
    { name: 'Unassigned', stills: unassigned },
    ...lights.map((light) => ({
      name: light,
      stills: placed
        .filter((still) => still.light === light)
        .sort((a, b) => a.mark!.distanceM - b.mark!.distanceM || byPath(a, b)),
    })),
    { name: 'Not usable', stills: failed },
  ].filter(({ stills }) => stills.length > 0)
}

/** The stills as the strip shows them, one after another. */
export function stillsInOrder(walk: WalkView): readonly StillView[] {
  return stillGroups(walk).flatMap(({ stills }) => stills)
}

/** By the camera's clock where every one of them has a time, else by their paths, numbers counted as numbers. */
export function inTakingOrder(stills: readonly StillView[]): readonly StillView[] {
  const timed = stills.every(({ head }) => head !== null && head.takenAt !== null)
  return [...stills].sort(
    (a, b) => (timed ? compareText(a.head!.takenAt!, b.head!.takenAt!) : 0) || byPath(a, b),
  )
}

/** Whether a still wants something of a person: a mark, a light, or its points. */
export function wantsWork(still: StillView, isPicked: boolean): boolean {
  if (still.state === 'failed' || still.state === 'chart') return false
  return still.state === 'unassigned' || !isPicked
}

const collator = new Intl.Collator('en', { numeric: true })

function byPath(a: StillView, b: StillView): number {
  return collator.compare(a.file, b.file)
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}

function isPlaced(still: StillView): boolean {
  return still.mark !== null && still.light !== null
}
