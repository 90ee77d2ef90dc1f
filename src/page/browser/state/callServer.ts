import type { Conflict, Refusal } from '../../api.js'
import { ownHeaders } from './session.js'

/** This page's own name among the pages open on the walk: events carry it. */
export const PAGE_NAME = crypto.randomUUID()

/** What became of a call. `unreachable`: no answer, or none that is ours; try again. `shut-out`: the address is an old one. */
export type Reply<T> =
  | { readonly kind: 'ok'; readonly value: T }
  | { readonly kind: 'conflict'; readonly conflict: Conflict }
  | { readonly kind: 'refused'; readonly refusal: Refusal }
  | { readonly kind: 'unreachable' }
  | { readonly kind: 'shut-out' }

/** Asks the server for JSON. */
export function getFrom<T>(
  path: string,
  parameters: Readonly<Record<string, string>> = {},
): Promise<Reply<T>> {
  return call<T>(address(path, parameters), { method: 'GET' })
}

/** Hands the server JSON. */
export function postTo<T>(path: string, body: object): Promise<Reply<T>> {
  return call<T>(path, {
    method: 'POST',
    headers: { 'Content-Type': 'application/json', 'X-Page': PAGE_NAME },
    body: JSON.stringify(body),
  })
}

/** A path with parameters. */
export function address(path: string, parameters: Readonly<Record<string, string | number>>): string {
  const query = new URLSearchParams(Object.entries(parameters).map(([name, value]) => [name, String(value)]))
  const text = query.toString()
  return text === '' ? path : `${path}?${text}`
}

/** Fetches bytes; null where there are none. */
export async function fetchBlob(path: string, signal: AbortSignal | null = null): Promise<Blob | null> {
  const response = await fetch(path, { headers: ownHeaders(), signal, cache: 'no-store' }).catch(() => null)
  return response?.ok === true ? response.blob().catch(() => null) : null
}

/** Hands the server the bytes of a file; `onShare` is told how much of them went, 0 to 1. */
export function sendBytes<T>(
  path: string,
  file: Blob,
  until: AbortSignal,
  onShare: (share: number) => void,
): Promise<Reply<T>> {
  return new Promise((resolve) => {
    // only this way of asking tells how much was sent
    const request = new XMLHttpRequest()
    request.open('POST', path)
    const headers = { 'Content-Type': 'application/octet-stream', ...ownHeaders() }
    for (const [name, value] of Object.entries(headers)) request.setRequestHeader(name, value)
    request.upload.onprogress = ({ loaded, total }) => onShare(total === 0 ? 1 : loaded / total)
    request.onload = () => resolve(replyOf(request.status, request.responseText))
    request.onerror = request.onabort = () => resolve({ kind: 'unreachable' })
    if (until.aborted) return resolve({ kind: 'unreachable' })
    until.addEventListener('abort', () => request.abort(), { once: true })
    request.send(file)
  })
}

interface Call {
  readonly method: 'GET' | 'POST'
  readonly headers?: Record<string, string>
  readonly body?: string
}

async function call<T>(path: string, init: Call): Promise<Reply<T>> {
  try {
    const headers = { ...init.headers, ...ownHeaders() }
    const response = await fetch(path, { ...init, headers, cache: 'no-store' })
    return replyOf(response.status, await response.text())
  } catch {
    return { kind: 'unreachable' }
  }
}

/** What an answer says; unreachable where it is none of ours. */
function replyOf<T>(status: number, text: string): Reply<T> {
  if (status === 401 || status === 403) return { kind: 'shut-out' }
  try {
    const body: unknown = text === '' ? null : JSON.parse(text)
    if (status >= 200 && status < 300) return { kind: 'ok', value: body as T }
    if (status === 409) return { kind: 'conflict', conflict: body as Conflict }
    return { kind: 'refused', refusal: body as Refusal }
  } catch {
    return { kind: 'unreachable' }
  }
}
