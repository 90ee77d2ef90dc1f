import { answerRequest } from './routes/answerRequest.js'
import { heldStills } from './pictures/heldStills.js'
import type { PageContext } from './routes/pageContext.js'
import { pageEvents } from './routes/pageEvents.js'
import { PAGE_FILES, pageFiles } from './reply/pageFiles.js'
import { PageWalk } from './walk/pageWalk.js'
import { quietTime } from './reply/quietTime.js'
import { serveLoopback, type PageServer, type Served } from './reply/serveLoopback.js'
import { stillThumbs } from './pictures/stillThumbs.js'

/** How the page's server is started. */
export interface PageServerOptions {
  readonly dir: string
  /** 0, and where it is left out: any that is free. */
  readonly port?: number
  /** Where the page's own files lie; beside this program where it is left out. */
  readonly filesDir?: string
}

/**
 * Serves the page of a walk on this machine alone.
 * @throws `ProofwalkErrors` where the walk is at fault, `ProofwalkError` `port-taken` or `page-not-built`
 */
export async function startPageServer(options: PageServerOptions): Promise<PageServer> {
  const files = await pageFiles(options.filesDir ?? PAGE_FILES)
  const events = pageEvents()
  const quiet = quietTime()
  const walk = await PageWalk.open(options.dir, events.tell, quiet)
  const context: PageContext = {
    walk,
    events,
    held: heldStills(options.dir),
    thumbs: stillThumbs(options.dir),
    quit: () => setImmediate(() => void server.close()),
  }
  const closing = (): Promise<void> => {
    events.tell({ kind: 'end' })
    events.close()
    return walk.close()
  }
  const served: Served = {
    command: 'pick',
    files,
    answer: (request, response) => answerRequest(context, request, response),
    asked: quiet.asked,
    closing,
  }
  const server = await serveLoopback(served, options.port ?? 0).catch(async (error: unknown) => {
    await closing()
    throw error
  })
  setImmediate(() => void lookAhead(context))
  return server
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
