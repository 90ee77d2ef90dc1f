import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http'
import type { AddressInfo } from 'node:net'
import { lstat, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { fault } from '../../sentences.js'
import { pageSays } from '../sentences.js'
import { walkAround } from '../../walk/read/readWalk.js'
import { answerRequest, type ServedPage } from './routes/answerRequest.js'
import { heldStills } from './pictures/heldStills.js'
import type { PageContext } from './routes/pageContext.js'
import { pageEvents } from './routes/pageEvents.js'
import { pageFiles, type PageFile } from './reply/pageFiles.js'
import { pageGate, type PageGate } from './reply/pageGate.js'
import { PageWalk } from './walk/pageWalk.js'
import { quietTime } from './reply/quietTime.js'
import { readBody } from './reply/readBody.js'
import { jsonReply, sendReply, sendText } from './reply/reply.js'
import { requestSchemas } from './reply/requestSchemas.js'
import { ROUTES } from '../api.js'
import { stillThumbs } from './pictures/stillThumbs.js'

/** How the page's server is started. */
export interface PageServerOptions {
  readonly dir: string
  /** Where `dir` is a folder and no walk, one is begun on the page: in a folder of it of this name, as proposed, or in itself where it is null. */
  readonly begin?: string | null
  /** 0, and where it is left out: any that is free. */
  readonly port?: number
  /** Where the page's own files lie; beside this program where it is left out. */
  readonly filesDir?: string
}

/** A running server. */
export interface PageServer {
  readonly port: number
  /** What a person opens, once: it carries the token in its fragment, which no request shows. */
  readonly address: string
  /** Resolves once it has ended, by `close` or because a page asked for it. */
  readonly ended: Promise<void>
  /** The folder of its walk; null while none is begun. */
  walkDir(): string | null
  close(): Promise<void>
}

/** A request's head is sent within 5 s, all of it within 30 s, or its connection is ended: looked at every second. */
const LIMITS = { headersTimeout: 5_000, requestTimeout: 30_000, connectionsCheckingInterval: 1_000 } as const
/** 32 pages with the six connections that a browser opens: more are turned away. */
const MOST_CONNECTIONS = 200
/** Only this machine reaches it. */
const LOOPBACK = '127.0.0.1'

/**
 * Serves the page of a walk on this machine alone.
 * @throws `ProofwalkErrors` where the walk is at fault, `ProofwalkError` `port-taken` or `page-not-built`
 */
export async function startPageServer(options: PageServerOptions): Promise<PageServer> {
  const files = await pageFiles(options.filesDir ?? fileURLToPath(new URL('./browser', import.meta.url)))
  const events = pageEvents()
  const quiet = quietTime()
  const gate = pageGate()
  let end: () => void = () => undefined
  const ended = new Promise<void>((resolve) => (end = resolve))
  let closing: Promise<void> | null = null
  const close = (): Promise<void> => {
    closing ??= (async () => {
      events.tell({ kind: 'end' })
      events.close()
      const closed = new Promise((resolve) => server.close(resolve))
      server.closeIdleConnections()
      if ('walk' in page) await page.walk.close()
      server.closeAllConnections()
      await closed
      end()
    })()
    return closing
  }
  const quit = (): void => void setImmediate(() => void close())
  const opened = async (dir: string): Promise<PageContext> => {
    const walk = await PageWalk.open(dir, events.tell, quiet)
    return { walk, events, held: heldStills(dir), thumbs: stillThumbs(dir), quit }
  }
  const { dir, begin } = options
  const open = async (begun: string): Promise<void> => {
    page = await opened(begun)
    events.tell({ kind: 'walk', revision: page.walk.revision(), by: null, message: null })
  }
  let page: ServedPage =
    begin !== undefined && (await isNoWalk(dir))
      ? { events, place: { dir, folder: begin }, open, quit }
      : await opened(dir)
  const server = createServer(LIMITS, (request, response) => {
    quiet.asked()
    respond(page, gate, files, request, response).catch((error: unknown) => {
      response.destroy(error instanceof Error ? error : undefined)
    })
  })
  server.maxConnections = MOST_CONNECTIONS
  try {
    const port = await listen(server, options.port ?? 0)
    setImmediate(() => void ('walk' in page && lookAhead(page)))
    const address = `http://${LOOPBACK}:${port}/#${gate.token}`
    return { port, address, ended, walkDir: () => ('walk' in page ? page.walk.dir : null), close }
  } catch (error) {
    if ('walk' in page) await page.walk.close()
    events.close()
    throw error
  }
}

/** No screen shows more of a whole still, px. */
const SCREEN_PX = 2048

/** Opens the first still while the browser starts: it is what the page shows first. */
async function lookAhead({ walk, held }: PageContext): Promise<void> {
  const first = walk.view().stills.find(({ state }) => state !== 'failed')
  const still = first === undefined ? null : await held.of(first)
  if (still?.ok !== true) return
  const { width, height } = still.value.still
  const halvings = Math.max(1, Math.ceil(Math.log2(Math.max(width, height) / SCREEN_PX)))
  await still.value.level(halvings).catch(() => null) // the page is told when it asks
}

/** A folder in which a walk can be begun: neither one itself nor a part of one. */
async function isNoWalk(dir: string): Promise<boolean> {
  const facts = await stat(dir).catch(() => null)
  const yaml = await lstat(join(dir, 'walk.yaml')).catch(() => null)
  return facts?.isDirectory() === true && yaml === null && (await walkAround(dir)) === null
}

async function respond(
  page: ServedPage,
  gate: PageGate,
  files: ReadonlyMap<string, PageFile>,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  const refuse = (status: number, message: string): void => {
    response.setHeader('Connection', 'close')
    sendText(response, status, `${message}.`)
  }
  const outside = gate.foreign(request, (request.socket.address() as AddressInfo).port)
  if (outside !== null) return refuse(403, outside)
  const file = request.method === 'GET' ? files.get(request.url ?? '') : undefined
  if (file !== undefined) return sendReply(response, { kind: 'bytes', ...file })
  if (request.method === 'POST' && request.url === ROUTES.enter) {
    const body = await readBody(request)
    const shown = body.ok ? requestSchemas.enter.safeParse(body.value) : null
    const session = shown?.success === true ? gate.enter(shown.data.token) : null
    if (session !== null) return sendReply(response, jsonReply({ session }))
  }
  if (!gate.holds(request)) return refuse(401, pageSays['address-used']().message)
  const reply = await answerRequest(page, request, response)
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
