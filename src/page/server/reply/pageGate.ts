import { createHash, randomBytes, timingSafeEqual } from 'node:crypto'
import type { IncomingMessage } from 'node:http'
import { pageSays } from '../../sentences.js'

/** What a request is let in for: `pass`; `enter` (it shows the token, and gets the cookie); or a refusal with its status. */
type Admission =
  | { readonly kind: 'pass' }
  | { readonly kind: 'enter'; readonly cookie: string }
  | { readonly kind: 'refuse'; readonly status: 401 | 403; readonly message: string }

/** Who may speak to the page's server. */
export interface PageGate {
  /** Goes into the address, once. */
  readonly token: string
  admit(request: IncomingMessage, port: number): Admission
}

/**
 * The gate of one server: only the page itself comes through, on this machine, from the browser that first showed the token of the address. Other sites in the
 * same browser fail by Origin, names that point here (DNS rebinding) by Host, other users of the machine by the cookie.
 */
export function pageGate(): PageGate {
  const token = secret()
  const session = secret()
  let tokenIsNew = true
  return {
    token,
    admit(request, port) {
      const outside = foreign(request, port)
      if (outside !== null) return { kind: 'refuse', status: 403, message: outside }
      const name = `proofwalk-${port}` // cookies know no ports, and several pages may be open
      const shown = tokenIn(request)
      if (cookieOf(request, name).some((value) => same(value, session))) {
        return shown === null ? { kind: 'pass' } : { kind: 'enter', cookie: cookieText(name, session) }
      }
      if (shown !== null && tokenIsNew && same(shown, token)) {
        tokenIsNew = false
        return { kind: 'enter', cookie: cookieText(name, session) }
      }
      return {
        kind: 'refuse',
        status: 401,
        message: pageSays['address-used']().message,
      }
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
  return pageSays['other-site']().message
}

/** The token of an address `/?token=...`; null where there is none. */
function tokenIn(request: IncomingMessage): string | null {
  return request.method === 'GET' ? (/^\/\?token=([\w-]{1,100})$/.exec(request.url ?? '')?.[1] ?? null) : null
}

function cookieOf(request: IncomingMessage, name: string): string[] {
  const pairs = (request.headers.cookie ?? '').split(';').map((pair) => pair.trim())
  return pairs.filter((pair) => pair.startsWith(`${name}=`)).map((pair) => pair.slice(name.length + 1))
}

function cookieText(name: string, value: string): string {
  return `${name}=${value}; Path=/; HttpOnly; SameSite=Strict`
}

function same(one: string, other: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest()
  return timingSafeEqual(digest(one), digest(other))
}
