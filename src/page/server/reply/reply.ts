import type { ServerResponse } from 'node:http'
import { problem, type Said } from '../../../sentences.js'

/** What a route answers; a stream writes its own. */
export type Reply =
  | { readonly kind: 'json'; readonly status: number; readonly body: unknown }
  | { readonly kind: 'bytes'; readonly type: string; readonly bytes: Uint8Array }
  | { readonly kind: 'stream' }

export function jsonReply(body: unknown, status = 200): Reply {
  return { kind: 'json', status, body }
}

/** A sentence as the reason why not, and the file of the change it is about. */
export function refusal(status: number, said: Said, file?: string): Reply {
  return jsonReply({ ...problem(said), ...(file === undefined ? {} : { file }) }, status)
}

/**
 * On every answer: the page loads its own scripts, styles and pictures and nothing else from anywhere, is framed by nobody, and nothing of a walk is kept by
 * the browser once it is closed.
 */
export const SAFETY_HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy': [
    "default-src 'none'",
    "script-src 'self'",
    "style-src 'self'",
    "font-src 'self'",
    "img-src 'self' blob: data:",
    "connect-src 'self'",
    "base-uri 'none'",
    "form-action 'none'",
    "frame-ancestors 'none'",
  ].join('; '),
  'X-Content-Type-Options': 'nosniff',
  'X-Frame-Options': 'DENY',
  'Referrer-Policy': 'no-referrer',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Cache-Control': 'no-store',
}

/** Sends a reply with the {@link SAFETY_HEADERS}. */
export function sendReply(response: ServerResponse, reply: Reply): void {
  if (reply.kind === 'stream') return
  const bytes = reply.kind === 'json' ? Buffer.from(JSON.stringify(reply.body)) : Buffer.from(reply.bytes)
  response.writeHead(reply.kind === 'json' ? reply.status : 200, {
    ...SAFETY_HEADERS,
    'Content-Type': reply.kind === 'json' ? 'application/json; charset=utf-8' : reply.type,
    'Content-Length': bytes.length,
  })
  response.end(bytes)
}

/** Sends a line of plain text, for people. */
export function sendText(response: ServerResponse, status: number, text: string): void {
  response.writeHead(status, { ...SAFETY_HEADERS, 'Content-Type': 'text/plain; charset=utf-8' })
  response.end(`${text}\n`)
}
