import { createHash, randomBytes, timingSafeEqual } from 'node:crypto'
import type { IncomingMessage } from 'node:http'
import { SESSION_HEADER } from '../../api.js'
import { pageSays } from '../../sentences.js'

/** Who may speak to the page's server. */
export interface PageGate {
  /** Goes into the address, once. */
  readonly token: string
  /** Why a request is foreign, or null. */
  foreign(request: IncomingMessage, port: number): string | null
  /** Whether a request carries the session. */
  holds(request: IncomingMessage): boolean
  /** The session for the token of the address, once; null for anything else. */
  enter(token: string): string | null
}

/**
 * The gate of one server: only the page itself comes through, on this machine, from the tab that first showed the token of the address. Other sites in the
 * same browser fail by Origin, names that point here (DNS rebinding) by Host, other users of the machine by the session. That is a header and no cookie: cookies
 * know no ports, and every other server on this machine would be handed it.
 */
export function pageGate(): PageGate {
  const token = secret()
  const session = secret()
  let tokenIsNew = true
  return {
    token,
    foreign,
    holds(request) {
      const shown = request.headers[SESSION_HEADER]
      return typeof shown === 'string' && same(shown, session)
    },
    enter(shown) {
      if (!tokenIsNew || !same(shown, token)) return null
      tokenIsNew = false
      return session
    },
  }
}

function secret(): string {
  return randomBytes(32).toString('base64url')
}

function foreign(request: IncomingMessage, port: number): string | null {
  const own = `127.0.0.1:${port}`
  const { host, origin } = request.headers
  if (host !== own) return pageSays['other-address']().message
  if (origin !== undefined && origin !== `http://${own}`) return pageSays['other-site']().message
  if (origin === undefined && request.method !== 'GET') return pageSays['no-origin']().message
  const site = request.headers['sec-fetch-site']
  if (site === undefined || site === 'same-origin' || (site === 'none' && request.method === 'GET'))
    return null
  // The file that the browser is opened with leads here; the page alone knows nothing of the walk.
  const isOpened = request.method === 'GET' && request.url === '/'
  if (isOpened && request.headers['sec-fetch-mode'] === 'navigate') return null
  return pageSays['other-site']().message
}

function same(one: string, other: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest()
  return timingSafeEqual(digest(one), digest(other))
}
