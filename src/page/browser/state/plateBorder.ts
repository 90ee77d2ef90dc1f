import { ROUTES, type BorderRequest, type BorderSeen, type ReferenceView, type Saved } from '../../api.js'
import { postTo } from './callServer.js'
import type { PageState } from './pageState.js'
import type { PageStore } from './pageStore.js'
import { isSameReference, referenceOf, stillOf } from './shownPick.js'
import { noteLink, readWalk } from './takeNews.js'
import { tell } from './tell.js'

/** The plate at hand where walk.yaml does not say how its edge is made; null where nothing is open. */
export function borderlessPlate(state: PageState): ReferenceView | null {
  const still = stillOf(state, state.current)
  const view = still === null || still.head === null ? null : referenceOf(state, still)
  if (view === null || view.reference.kind !== 'rectangle') return null
  const { marking, border, chart } = view.reference
  return marking === 'characters' && border === undefined && chart === undefined ? view : null
}

/** The plate to ask about now: the one at hand, until the person has said that they do not know. */
export function plateToAsk(state: PageState): ReferenceView | null {
  const plate = borderlessPlate(state)
  const isAsked = plate !== null && state.room === 'stills' && state.walk?.faults.length === 0
  return isAsked && !state.borderUnknown.includes(plate.name) ? plate : null
}

/** Looks whether a saved pick of a plate shows how its edge is made; where one does, the person is asked with that, once a still. */
export async function lookForBorder(store: PageStore, name: string): Promise<void> {
  const reply = await postTo<BorderSeen | null>(ROUTES.borderSeen, { reference: name })
  const { borderSeen } = store.state
  if (reply.kind !== 'ok' || reply.value === null || reply.value.file === borderSeen?.file) return
  store.put({ borderSeen: reply.value })
  knowBorder(store, name, false)
}

/** Saved picks of a plate, by their versions: what may show how its edge is made. */
export function picksOfPlate(state: PageState, name: string): string {
  const own = (state.walk?.stills ?? []).flatMap(({ picks }) =>
    picks.filter(({ reference }) => isSameReference(state, reference, name)),
  )
  return own.map(({ version }) => version).join(' ')
}

/** Writes into walk.yaml how a plate's edge is made; what is wrong with the words, null where they are written. */
export async function writeBorder(store: PageStore, request: BorderRequest): Promise<string | null> {
  const reply = await postTo<Saved>(ROUTES.border, request)
  if (reply.kind === 'refused') return reply.refusal.message
  if (reply.kind === 'conflict') tell(store, reply.conflict.message)
  else noteLink(store, reply)
  await readWalk(store)
  return null
}

/** Asks about a plate again, or no more. */
export function knowBorder(store: PageStore, name: string, isUnknown: boolean): void {
  const others = store.state.borderUnknown.filter((one) => one !== name)
  store.put({ borderUnknown: isUnknown ? [...others, name] : others })
}
