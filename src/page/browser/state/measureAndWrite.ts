import {
  ROUTES,
  type MeasureAnswer,
  type MeasureRequest,
  type PagePick,
  type SheetRequest,
  type SheetWritten,
} from '../../api.js'
import { fetchBlob, postTo } from './callServer.js'
import type { PageStore } from './pageStore.js'
import { bare } from './shownPick.js'
import { noteLink, readWalk } from './takeNews.js'

/** Has detail and tone measured on a still with a pick. */
export async function measureDetail(store: PageStore, file: string, pick: PagePick): Promise<void> {
  const { details } = store.state
  store.put({ details: new Map(details).set(file, { of: pick, answer: null }) })
  const request: MeasureRequest = { file, pick: bare(pick) }
  const reply = await postTo<MeasureAnswer>(ROUTES.measure, request)
  if (store.state.details.get(file)?.of !== pick) return
  const next = new Map(store.state.details)
  if (reply.kind === 'ok') next.set(file, { of: pick, answer: reply.value })
  else if (reply.kind === 'refused')
    next.set(file, {
      of: pick,
      answer: { ok: false, code: reply.refusal.code, message: reply.refusal.message },
    })
  else {
    next.delete(file)
    noteLink(store, reply)
  }
  store.put({ details: next })
}

/** Has every still measured and results.json written. */
export async function measureAll(store: PageStore): Promise<void> {
  store.put({ measuring: true })
  const reply = await postTo<unknown>(ROUTES.measureAll, {})
  if (reply.kind === 'ok') return
  store.put({ measuring: false })
  noteLink(store, reply)
}

/** Has the sheet written so; where that would show what the sheet in its place hides, asks first. */
export async function writeSheet(store: PageStore, setting: SheetRequest): Promise<void> {
  store.put({ sheet: 'writing' })
  const reply = await postTo<SheetWritten>(ROUTES.sheet, setting)
  const blob = reply.kind === 'ok' ? await fetchBlob(ROUTES.sheet) : null
  const sheet =
    reply.kind === 'ok' && blob !== null
      ? { file: reply.value.file, address: URL.createObjectURL(blob) }
      : 'none'
  store.put({ sheet })
  if (reply.kind === 'refused' && reply.refusal.code === 'sheet-was-masked')
    store.put({ sheetAsk: { about: 'masked', setting, message: reply.refusal.message } })
  else if (reply.kind !== 'ok') noteLink(store, reply)
  else await readWalk(store)
}
