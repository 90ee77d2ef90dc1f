import type { ServerResponse } from 'node:http'
import type { PageEvent } from '../../api.js'
import { SAFETY_HEADERS } from '../reply/reply.js'

/** More pages than this on one walk are a mistake. This project's convention. */
const MOST_LISTENERS = 32
const SIGN_OF_LIFE_MS = 15_000

/** Tells every open page what happens. */
export interface PageEvents {
  /** Keeps the response open; false where too many listen. */
  listen(response: ServerResponse, hello: PageEvent): boolean
  tell(event: PageEvent): void
  close(): void
}

/** The event streams of one server. */
export function pageEvents(): PageEvents {
  const open = new Set<ServerResponse>()
  const write = (response: ServerResponse, event: PageEvent): void => {
    response.write(`event: ${event.kind}\ndata: ${JSON.stringify(event)}\n\n`)
  }
  const signs = setInterval(() => open.forEach((response) => response.write(': \n\n')), SIGN_OF_LIFE_MS)
  signs.unref()
  return {
    listen(response, hello) {
      if (open.size >= MOST_LISTENERS) return false
      response.writeHead(200, { ...SAFETY_HEADERS, 'Content-Type': 'text/event-stream; charset=utf-8' })
      open.add(response)
      response.on('close', () => open.delete(response))
      write(response, hello)
      return true
    },
    tell: (event) => open.forEach((response) => write(response, event)),
    close() {
      clearInterval(signs)
      open.forEach((response) => response.end())
      open.clear()
    },
  }
}
