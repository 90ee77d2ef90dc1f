import type { IncomingMessage } from 'node:http'

/** How long a request's body may take, ms: as a whole, or (`silentMs`) without a byte that comes. */
export type BodyTime = { readonly wholeMs: number } | { readonly silentMs: number }

/** So often it is looked at, ms. */
const LOOK_EVERY_MS = 250

/** Ends the connection of a request whose body takes too long. Bytes that came and wait to be read, for a slow disk, are not silence. */
export function limitBody(request: IncomingMessage, time: BodyTime): void {
  const { socket } = request
  let [since, bytes] = [performance.now(), socket.bytesRead]
  const watch = setInterval(() => {
    if (request.complete || request.destroyed) return clearInterval(watch)
    const isAlive = socket.bytesRead !== bytes || request.readableLength > 0
    if ('silentMs' in time && isAlive) [since, bytes] = [performance.now(), socket.bytesRead]
    if (performance.now() - since > ('wholeMs' in time ? time.wholeMs : time.silentMs)) socket.destroy()
  }, LOOK_EVERY_MS).unref()
}
