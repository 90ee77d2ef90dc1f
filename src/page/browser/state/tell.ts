import type { PageStore } from './pageStore.js'

let count = 0

/** Says something to the person until it is put away; the same words once. */
export function tell(store: PageStore, text: string): void {
  const { notices } = store.state
  if (notices.some((notice) => notice.text === text)) return
  count += 1
  store.put({ notices: [...notices.slice(-3), { id: count, text }] })
}

/** Puts a notice away. */
export function putAway(store: PageStore, id: number): void {
  store.put({ notices: store.state.notices.filter((notice) => notice.id !== id) })
}
