import { failure } from '../../../math/outcome.js'
import { MOST_DROPPED_BYTES, ROUTES, type StillDropped, type TakenBack } from '../../api.js'
import { pageSays } from '../../sentences.js'
import { address, postTo, sendBytes } from './callServer.js'
import { withChange } from './changeHistory.js'
import type { Change, Drop, PageState } from './pageState.js'
import type { PageStore } from './pageStore.js'
import { stillOf } from './shownPick.js'
import { noteLink, readWalk } from './takeNews.js'
import { tell } from './tell.js'

const waiting: File[] = []
let stop = new AbortController()

const NOTHING: Drop = { all: 0, name: null, share: 0, files: [], refused: [] }

/** Copies files into the walk, one after another, behind those that are being copied; folders among them are told and left. */
export async function dropStills(
  store: PageStore,
  files: readonly File[],
  folders: readonly string[] = [],
): Promise<void> {
  if (files.length + folders.length === 0) return
  const isRunning = store.state.drop !== null && store.state.drop.name !== null
  const before = isRunning ? store.state.drop! : NOTHING
  const told = folders.map((name) => ({ name, why: failure(pageSays['folder-dropped']()).message }))
  store.put({ drop: { ...before, all: before.all + files.length, refused: [...before.refused, ...told] } })
  waiting.push(...files)
  if (isRunning) return
  stop = new AbortController()
  for (let file = waiting.shift(); file !== undefined; file = waiting.shift()) await copy(store, file)
  const { files: came } = store.state.drop!
  const change = { kind: 'drop', files: came.filter((file) => !before.files.includes(file)) } as const
  if (change.files.length > 0) store.put({ history: withChange(store.state.history, change) })
  await showDropped(store)
}

/** Ends copying: what is there stays, what is half there goes. */
export function stopDropping(): void {
  waiting.length = 0
  stop.abort()
}

async function copy(store: PageStore, file: File): Promise<void> {
  const put = (part: Partial<Drop>): void => store.put({ drop: { ...store.state.drop!, ...part } })
  const refuse = (why: string): void =>
    put({ refused: [...store.state.drop!.refused, { name: file.name, why }] })
  put({ name: file.name, share: 0 })
  if (file.size > MOST_DROPPED_BYTES) return refuse(failure(pageSays['dropped-too-large'](file.size)).message)
  // A folder, and a file that is gone by now, look like any other until they are read.
  const isReadable = await file
    .slice(0, 1)
    .arrayBuffer()
    .then(
      () => true,
      () => false,
    )
  if (!isReadable) return refuse(failure(pageSays['file-unreadable']()).message)
  const path = address(ROUTES.drop, { name: file.name })
  const reply = await sendBytes<StillDropped>(path, file, stop.signal, (share) => put({ share }))
  if (reply.kind === 'ok') return put({ files: [...store.state.drop!.files, reply.value.file] })
  if (reply.kind === 'refused') return refuse(reply.refusal.message)
  refuse(pageSays['not-copied']().message)
  waiting.length = 0
  if (!stop.signal.aborted) noteLink(store, reply)
}

/** Shows what came; of that, what waits for its mark or light is chosen, to be given them. */
async function showDropped(store: PageStore): Promise<void> {
  await readWalk(store)
  const drop = { ...store.state.drop!, name: null }
  const open = drop.files.filter((file) => stillOf(store.state, file)?.state === 'unassigned')
  const [first] = [...open, ...drop.files]
  if (first === undefined) return store.put({ drop })
  const other = first !== store.state.current
  store.put({
    drop,
    room: 'stills',
    current: first,
    chosen: open.length > 0 ? open : [first],
    ...(other ? { moving: null, point: null, snap: null } : {}),
  })
}

/** Takes stills that were dropped back out of the walk, with what was begun on them; what cannot be is told. */
export async function takeBackDropped(store: PageStore, files: readonly string[]): Promise<void> {
  await saved(store)
  const reply = await postTo<TakenBack>(ROUTES.takeBack, { files })
  if (reply.kind !== 'ok') return noteLink(store, reply)
  const { current, drafts } = store.state
  const kept = new Set(reply.value.refused.map(({ file }) => file))
  for (const { file, message } of reply.value.refused) tell(store, `${file ?? ''}: ${message}`)
  store.put({
    drop: null,
    chosen: current === null ? [] : [current],
    drafts: drafts.filter(({ file }) => !files.includes(file) || kept.has(file)),
    history: withoutDropped(store.state.history, files),
  })
  await readWalk(store)
}

/** Waits until what was changed is saved, or waits for a word of the person: a still whose corners were undone just now is not in use. */
function saved(store: PageStore): Promise<void> {
  return new Promise((resolve) => {
    const look = (): void => {
      if (store.state.unsaved.some(({ held }) => held === null)) return
      stop()
      resolve()
    }
    const stop = store.listen(look)
    look()
  })
}

/** What was done without the copying of these stills: what was taken back is not taken back again, nor what could not be. */
function withoutDropped(
  { done, undone }: PageState['history'],
  files: readonly string[],
): PageState['history'] {
  const without = (changes: readonly Change[]): Change[] =>
    changes.flatMap((change): Change[] => {
      if (change.kind !== 'drop') return [change]
      const left = change.files.filter((file) => !files.includes(file))
      return left.length === 0 ? [] : [{ kind: 'drop', files: left }]
    })
  return { done: without(done), undone }
}
