import type { StillView } from '../../api.js'
import type { PageState } from './pageState.js'
import type { PageStore } from './pageStore.js'
import { isPicked } from './shownPick.js'
import { stillsInOrder, wantsWork } from './stillsInOrder.js'

/** Shows a still; what was begun on the one before stays there, no pick yet. */
export function showStill(store: PageStore, file: string, chosen: readonly string[] = [file]): void {
  const other = file !== store.state.current
  store.put({
    current: file,
    chosen,
    room: 'stills',
    ...(other ? { moving: null, point: null, snap: null } : {}),
  })
}

/** Shows the still so many steps on in the strip. */
export function stepStill(store: PageStore, by: number): void {
  const { walk, current } = store.state
  if (walk === null) return
  const order = stillsInOrder(walk)
  const at = order.findIndex(({ file }) => file === current)
  const next = order[Math.max(0, Math.min(order.length - 1, at + by))]
  if (next !== undefined) showStill(store, next.file)
}

/** Shows the next still that wants a mark, a light or points, starting over at the strip's end; the same where there is none. */
export function nextToDo(store: PageStore): void {
  const next = otherToDo(store.state)
  if (next !== null) showStill(store, next.file)
}

/** The next still but the current one that wants something of a person; null where none does. */
export function otherToDo(state: PageState): StillView | null {
  const { walk, current } = state
  if (walk === null) return null
  const order = stillsInOrder(walk)
  const at = order.findIndex(({ file }) => file === current)
  const round = [...order.slice(at + 1), ...order.slice(0, Math.max(0, at))]
  return round.find((still) => wantsWork(still, isPicked(state, still))) ?? null
}

/** Chooses from the current still to this one, as the strip shows them. */
export function chooseTo(store: PageStore, file: string): void {
  const { walk, current } = store.state
  if (walk === null) return
  const order = stillsInOrder(walk).map((still) => still.file)
  const [a, b] = [order.indexOf(current ?? file), order.indexOf(file)].sort((x, y) => x - y) as [
    number,
    number,
  ]
  store.put({ chosen: order.slice(Math.max(0, a), b + 1) })
}

/** Adds a still to those chosen, or leaves it out; the current one stays in. */
export function chooseAlso(store: PageStore, file: string): void {
  const { chosen, current } = store.state
  const next = chosen.includes(file)
    ? chosen.filter((one) => one !== file || one === current)
    : [...chosen, file]
  store.put({ chosen: next })
}

/** Chooses all that stand under the current still's head in the strip. */
export function chooseGroup(
  store: PageStore,
  groups: readonly { readonly stills: readonly { readonly file: string }[] }[],
): void {
  const { current } = store.state
  const group = groups.find(({ stills }) => stills.some(({ file }) => file === current))
  if (group !== undefined) store.put({ chosen: group.stills.map(({ file }) => file) })
}
