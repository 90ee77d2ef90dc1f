import { lstat, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { walkAround } from '../../walk/read/readWalk.js'
import { answerRequest, type ServedPage } from './routes/answerRequest.js'
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
  /** Where `dir` is a folder and no walk, one is begun on the page: in a folder of it of this name, as proposed, or in itself where it is null. */
  readonly begin?: string | null
  /** 0, and where it is left out: any that is free. */
  readonly port?: number
  /** Where the page's own files lie; beside this program where it is left out. */
  readonly filesDir?: string
}

/** A running server of a walk's page. */
export interface WalkServer extends PageServer {
  /** The folder of its walk; null while none is begun. */
  walkDir(): string | null
}

/**
 * Serves the page of a walk on this machine alone.
 * @throws `ProofwalkErrors` where the walk is at fault, `ProofwalkError` `port-taken` or `page-not-built`
 */
export async function startPageServer(options: PageServerOptions): Promise<WalkServer> {
  const files = await pageFiles(options.filesDir ?? PAGE_FILES)
  const events = pageEvents()
  const quiet = quietTime()
  const quit = (): void => void setImmediate(() => void server.close())
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
  const closing = async (): Promise<void> => {
    events.tell({ kind: 'end' })
    events.close()
    if ('walk' in page) await page.walk.close()
  }
  const served: Served = {
    command: 'pick',
    files,
    answer: (request, response) => answerRequest(page, request, response),
    asked: quiet.asked,
    closing,
  }
  const server = await serveLoopback(served, options.port ?? 0).catch(async (error: unknown) => {
    await closing()
    throw error
  })
  setImmediate(() => void ('walk' in page && lookAhead(page)))
  return { ...server, walkDir: () => ('walk' in page ? page.walk.dir : null) }
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
