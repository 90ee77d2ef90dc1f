import { createContext } from 'preact'
import { useContext, useLayoutEffect, useReducer, useRef } from 'preact/hooks'
import { NO_CHANGES } from './changeHistory.js'
import type { PageState } from './pageState.js'

/** The page's state and who listens to it. */
export interface PageStore {
  readonly state: PageState
  /** Replaces some of the state and tells all listeners, at once. */
  put(part: Partial<PageState>): void
  /** Calls back at every change; returns how to stop it. */
  listen(listener: () => void): () => void
}

/** A store with nothing in it yet. */
export function emptyStore(): PageStore {
  const listeners = new Set<() => void>()
  let state: PageState = {
    walk: null,
    begin: null,
    results: null,
    link: 'up',
    room: 'stills',
    current: null,
    chosen: [],
    unsaved: [],
    saving: false,
    history: NO_CHANGES,
    drafts: [],
    atHand: new Map(),
    moving: null,
    point: null,
    snap: null,
    details: new Map(),
    lastReference: null,
    bulk: null,
    assignedSo: [],
    borderUnknown: [],
    borderSeen: null,
    drop: null,
    measuring: false,
    sheet: 'none',
    sheetAsk: null,
    notices: [],
    keysShown: false,
  }
  return {
    get state() {
      return state
    },
    put(part) {
      state = { ...state, ...part }
      for (const listener of [...listeners]) listener()
    },
    listen(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
  }
}

/** The store of the page a component stands in. */
export const StoreOfPage = createContext<PageStore>(emptyStore())

/** The store itself, for what a component does. */
export function useStore(): PageStore {
  return useContext(StoreOfPage)
}

/** A part of the state; the component is drawn anew when that part is another one. */
export function usePart<T>(part: (state: PageState) => T): T {
  const store = useStore()
  const [, again] = useReducer<number, null>((count) => count + 1, 0)
  const seen = useRef<T>(null as T)
  const choose = useRef(part)
  choose.current = part
  seen.current = part(store.state)
  useLayoutEffect(
    () =>
      store.listen(() => {
        if (!Object.is(choose.current(store.state), seen.current)) again(null)
      }),
    [store],
  )
  return seen.current
}
