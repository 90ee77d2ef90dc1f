import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http'
import type { AddressInfo } from 'node:net'
import { fault } from '../../../sentences.js'
import { ROUTES } from '../../api.js'
import { pageSays } from '../../sentences.js'
import type { PageFile } from './pageFiles.js'
import { limitBody } from './limitBody.js'
import { pageGate, type PageGate } from './pageGate.js'
import { readBody } from './readBody.js'
import { jsonReply, sendReply, sendText, type Reply } from './reply.js'
import { requestSchemas } from './requestSchemas.js'

/** A running server. */
export interface PageServer {
  readonly port: number
  /** What a person opens, once: it carries the token in its fragment, which no request shows. */
  readonly address: string
  /** Resolves once it has ended, by `close` or because a page asked for it. */
  readonly ended: Promise<void>
  close(): Promise<void>
}

/** What a page's server serves. */
export interface Served {
  /** The command that serves it. */
  readonly command: 'pick' | 'read'
  /** The page's own files by the path they are asked for. */
  readonly files: ReadonlyMap<string, PageFile>
  /** Answers a request that came through the gate. */
  answer(request: IncomingMessage, response: ServerResponse): Promise<Reply>
  /** Of any request, before it is looked at. */
  asked?(): void
  /** Ends what is served, while its connections do. */
  closing?(): Promise<void>
}

/** A request's head is sent within 5 s, or its connection is ended: looked at every second. Its body has a limit of its own. */
const LIMITS = { headersTimeout: 5_000, requestTimeout: 0, connectionsCheckingInterval: 1_000 } as const
/** A body is sent within 30 s; a still, which a slow stick may take minutes for, is never silent so long. */
const BODY_MS = 30_000
/** 32 pages with the six connections that a browser opens: more are turned away. */
const MOST_CONNECTIONS = 200
/** Only this machine reaches it. */
const LOOPBACK = '127.0.0.1'

/**
 * Serves on this machine alone, to the tab that shows the token of the address; `port` 0: any that is free.
 * @throws `ProofwalkError` `port-taken`
 */
export async function serveLoopback(served: Served, asked: number): Promise<PageServer> {
  const gate = pageGate()
  let end: () => void = () => undefined
  const ended = new Promise<void>((resolve) => (end = resolve))
  let closing: Promise<void> | null = null
  const close = (): Promise<void> => {
    closing ??= (async () => {
      const ending = served.closing?.()
      const closed = new Promise((resolve) => server.close(resolve))
      server.closeIdleConnections()
      await ending
      server.closeAllConnections()
      await closed
      end()
    })()
    return closing
  }
  const server = createServer(LIMITS, (request, response) => {
    served.asked?.()
    const isStill = request.url?.split('?')[0] === ROUTES.drop
    limitBody(request, isStill ? { silentMs: BODY_MS } : { wholeMs: BODY_MS })
    respond(served, gate, request, response).catch((error: unknown) => {
      response.destroy(error instanceof Error ? error : undefined)
    })
  })
  server.maxConnections = MOST_CONNECTIONS
  const port = await listen(server, asked)
  return { port, address: `http://${LOOPBACK}:${port}/#${gate.token}`, ended, close }
}

async function respond(
  served: Served,
  gate: PageGate,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  const refuse = (status: number, message: string): void => {
    response.setHeader('Connection', 'close')
    sendText(response, status, `${message}.`)
  }
  const outside = gate.foreign(request, (request.socket.address() as AddressInfo).port)
  if (outside !== null) return refuse(403, outside)
  const file = request.method === 'GET' ? served.files.get(request.url ?? '') : undefined
  if (file !== undefined) return sendReply(response, { kind: 'bytes', ...file })
  if (request.method === 'POST' && request.url === ROUTES.enter) {
    const body = await readBody(request)
    const shown = body.ok ? requestSchemas.enter.safeParse(body.value) : null
    const session = shown?.success === true ? gate.enter(shown.data.token) : null
    if (session !== null) return sendReply(response, jsonReply({ session }))
  }
  if (!gate.holds(request)) return refuse(401, pageSays['address-used'](served.command).message)
  const reply = await served.answer(request, response)
  // a body that was refused is not read to its end, so the next request cannot follow on this connection
  if (!request.complete) response.setHeader('Connection', 'close')
  sendReply(response, reply)
}

function listen(server: Server, port: number): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once('error', (error: NodeJS.ErrnoException) => {
      const taken = error.code === 'EADDRINUSE' || error.code === 'EACCES'
      const said = pageSays['port-taken'](port, error.code === 'EACCES')
      reject(taken ? fault(said, { field: '--port' }) : error)
    })
    server.listen({ host: LOOPBACK, port }, () => resolve((server.address() as AddressInfo).port))
  })
}
