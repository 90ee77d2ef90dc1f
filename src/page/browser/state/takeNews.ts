import { ROUTES, type PageEvent, type ResultsView, type StillView, type WalkView } from '../../api.js'
import type { BeginView } from '../../beginApi.js'
import { getFrom, PAGE_NAME, type Reply } from './callServer.js'
import type { PageState } from './pageState.js'
import type { PageStore } from './pageStore.js'
import { ownHeaders } from './session.js'
import { stillsInOrder, wantsWork } from './stillsInOrder.js'
import { isPicked } from './shownPick.js'
import { tell } from './tell.js'
import { pageSays } from '../../sentences.js'

/** News of stills that came while the walk was asked for: the answer may have been written before them. */
const cameMeanwhile = new Set<StillNews[]>()

interface StillNews {
  readonly stills: readonly StillView[]
  readonly revision: number
}

/** Asks for the walk and shows it; the still that wants work first is opened where none is. */
export async function readWalk(store: PageStore): Promise<void> {
  const news: StillNews[] = []
  cameMeanwhile.add(news)
  const reply = await getFrom<WalkView>(ROUTES.walk)
  cameMeanwhile.delete(news)
  if (reply.kind === 'refused' && reply.refusal.code === 'no-walk-yet') return readBegin(store)
  if (reply.kind !== 'ok') return noteLink(store, reply)
  const walk = reply.value
  const { current } = store.state
  store.put({ walk, begin: null, link: 'up', snap: snapOf(store.state, walk.stills) })
  for (const { stills, revision } of news) if (revision > walk.revision) takeStills(store, stills, revision)
  if (current !== null && walk.stills.some(({ file }) => file === current)) return
  const order = stillsInOrder(walk)
  const first = order.find((still) => wantsWork(still, isPicked(store.state, still))) ?? order[0]
  store.put({ current: first?.file ?? null, chosen: first === undefined ? [] : [first.file] })
}

/** Asks what it takes to begin the walk, once: what was answered meanwhile stays. */
async function readBegin(store: PageStore): Promise<void> {
  if (store.state.begin !== null) return
  const reply = await getFrom<BeginView | null>(ROUTES.begin)
  if (reply.kind === 'ok') store.put({ begin: reply.value, link: 'up' })
  else noteLink(store, reply)
}

/** Asks for what is measured so far. */
export async function readResults(store: PageStore): Promise<void> {
  if (store.state.walk === null) return
  const reply = await getFrom<ResultsView>(ROUTES.results)
  if (reply.kind === 'ok')
    store.put({ results: reply.value, measuring: store.state.measuring && !reply.value.written })
  else noteLink(store, reply)
}

/** Puts stills as the server has them now in the place of those shown. */
export function takeStills(store: PageStore, stills: readonly StillView[], revision: number): void {
  for (const open of cameMeanwhile) open.push({ stills, revision })
  const { walk } = store.state
  if (walk === null) return
  const news = new Map(stills.map((still) => [still.file, still]))
  store.put({
    snap: snapOf(store.state, stills),
    walk: {
      ...walk,
      revision: Math.max(walk.revision, revision),
      stills: walk.stills.map((still) => news.get(still.file) ?? still),
    },
  })
}

/** The outline that is fitted; null where its still is another one by now: it may have been replaced while it was fitted. */
function snapOf({ snap }: PageState, stills: readonly StillView[]): PageState['snap'] {
  const now = stills.find(({ file }) => file === snap?.file)
  return now === undefined || now.head?.sha256 === snap?.sha256 ? snap : null
}

/** Tells the person how it stands with the server, by an answer that was none. */
export function noteLink(store: PageStore, reply: Reply<unknown>): void {
  if (reply.kind === 'shut-out') store.put({ link: 'shut-out' })
  else if (reply.kind === 'unreachable') {
    if (store.state.link !== 'ended') store.put({ link: 'down' })
  } else if (reply.kind === 'refused') tell(store, reply.refusal.message)
}

/** After so long a broken line to the server is tried anew, ms. */
const ANEW_MS = 1500

/** Listens to the server for as long as the page is open. `whenBack` is called whenever it answers again. */
export async function listenToServer(store: PageStore, whenBack: () => void): Promise<never> {
  for (;;) {
    await eachEvent(ROUTES.events, (event) => takeEvent(store, event, whenBack)).catch(() => undefined)
    if (store.state.link === 'up') store.put({ link: 'down' })
    await new Promise((resolve) => setTimeout(resolve, ANEW_MS))
  }
}

/** Reads a stream of server-sent events to its end: only a fetched one carries the session. Throws where the line breaks. */
async function eachEvent(path: string, take: (event: PageEvent) => void): Promise<void> {
  const response = await fetch(path, { headers: ownHeaders(), cache: 'no-store' })
  if (!response.ok || response.body === null) return
  const reader = response.body.pipeThrough(new TextDecoderStream()).getReader()
  let text = ''
  for (;;) {
    const { done, value } = await reader.read()
    if (done) return
    const blocks = (text + value).split('\n\n')
    text = blocks.pop() ?? ''
    for (const block of blocks) {
      const data = /^data: (.*)$/m.exec(block)?.[1]
      if (data !== undefined) take(JSON.parse(data) as PageEvent)
    }
  }
}

function takeEvent(store: PageStore, event: PageEvent, whenBack: () => void): void {
  switch (event.kind) {
    case 'hello': {
      const away = store.state.link !== 'up'
      store.put({ link: 'up' })
      if (away || event.revision !== store.state.walk?.revision) void readWalk(store)
      if (away) void readResults(store)
      whenBack()
      return
    }
    case 'walk':
      if (event.message !== null) tell(store, event.message)
      if (event.revision !== store.state.walk?.revision || event.by !== PAGE_NAME) void readWalk(store)
      return
    case 'stills':
      takeStills(store, event.stills, event.revision)
      if (event.by !== null && event.by !== PAGE_NAME)
        for (const { file } of event.stills)
          tell(store, `${pageSays['changed-in-another-page'](file).message}.`)
      return
    case 'results':
      void readResults(store)
      return
    case 'fault':
      tell(store, event.message)
      return
    case 'end':
      store.put({ link: 'ended' })
  }
}
