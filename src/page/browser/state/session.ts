import { ROUTES, SESSION_HEADER } from '../../api.js'

const KEY = 'proofwalk-session'

/** Other tabs of this very origin, its port counted: who comes without the session asks them, who gets one tells them. */
const tabs = new BroadcastChannel(KEY)
/** Other tabs answer within so long, or there are none, ms. */
const ANSWER_MS = 150

/**
 * Lets this tab in: by the one-time token of its address, else by what it holds from before a reload, else by another tab of the walk. Without any of them the
 * server refuses it.
 */
export async function enter(): Promise<void> {
  let told = (): void => undefined
  tabs.onmessage = ({ data }: MessageEvent<string | null>) => {
    const held = sessionStorage.getItem(KEY)
    if (data !== null) {
      sessionStorage.setItem(KEY, data)
      told()
    } else if (held !== null) tabs.postMessage(held)
  }
  const token = location.hash.slice(1)
  if (token !== '') {
    // Neither history nor a bookmark shall keep it.
    history.replaceState(null, '', '/')
    await show(token)
  }
  if (sessionStorage.getItem(KEY) !== null) return
  tabs.postMessage(null)
  await new Promise<void>((resolve) => {
    told = resolve
    setTimeout(resolve, ANSWER_MS)
  })
}

/** The headers of a request of this tab's. */
export function ownHeaders(): Record<string, string> {
  const held = sessionStorage.getItem(KEY)
  return held === null ? {} : { [SESSION_HEADER]: held }
}

async function show(token: string): Promise<void> {
  const body = JSON.stringify({ token })
  const headers = { 'Content-Type': 'application/json' }
  const answer = await fetch(ROUTES.enter, { method: 'POST', headers, body }).catch(() => null)
  if (answer?.ok !== true) return
  const { session } = (await answer.json()) as { session: string }
  sessionStorage.setItem(KEY, session)
  tabs.postMessage(session)
}
