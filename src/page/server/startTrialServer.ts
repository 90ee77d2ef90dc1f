import type { IncomingMessage } from 'node:http'
import * as z from 'zod'
import type { TrialSource } from '../../walk/trial/trialSource.js'
import { pageSays } from '../sentences.js'
import { TRIAL_ROUTES } from '../trialApi.js'
import { PAGE_FILES, pageFiles } from './reply/pageFiles.js'
import { readBody } from './reply/readBody.js'
import { jsonReply, refusal, type Reply } from './reply/reply.js'
import { faultReply } from './reply/faultReply.js'
import { takeBody } from './reply/takeBody.js'
import { serveLoopback, type PageServer } from './reply/serveLoopback.js'
import { practiceCrops } from './trial/practiceCrops.js'
import { ReadingDesk } from './trial/readingDesk.js'

const reader = z
  .string()
  .trim()
  .min(1)
  .max(60)
  .regex(/^[^\p{C}]+$/u)
const bodies = {
  next: z.strictObject({ reader }),
  answer: z.strictObject({
    showing: z.string().max(64),
    answered: z
      .string()
      .max(60)
      .regex(/^[A-Za-z0-9? ]+$/)
      .nullable(),
    seconds: z.number().nonnegative().max(1e6),
    zoom: z.number().positive().max(64),
    brightness: z.number().positive().max(16),
  }),
}

/** The trial's own page stands in the place of the walk's, of which nothing is served. */
const PAGES = ['/trial.js', '/trialStyle.css', '/regular.ttf', '/semibold.ttf'] as const

/**
 * Serves the page of a reading trial on this machine alone.
 * @throws `ProofwalkError` `port-taken` or `page-not-built`
 */
export async function startTrialServer(
  source: TrialSource,
  { port = 0, filesDir = PAGE_FILES }: { readonly port?: number; readonly filesDir?: string } = {},
): Promise<PageServer> {
  const all = await pageFiles(filesDir)
  const files = new Map([
    ['/', all.get('/read.html')!],
    ...PAGES.map((path) => [path, all.get(path)!] as const),
  ])
  const desk = new ReadingDesk(source, await practiceCrops())
  const quit = (): void => void setImmediate(() => void server.close())
  const server: PageServer = await serveLoopback(
    {
      command: 'read',
      files,
      answer: (request) => answer(desk, request, quit),
      closing: () => desk.settled(),
    },
    port,
  )
  return server
}

async function answer(desk: ReadingDesk, request: IncomingMessage, quit: () => void): Promise<Reply> {
  const [path = '', query = ''] = (request.url ?? '').split('?', 2)
  try {
    if (request.method === 'GET' && path === TRIAL_ROUTES.crop) {
      const bytes = desk.picture(new URLSearchParams(query).get('showing') ?? '')
      return bytes === null
        ? refusal(404, pageSays['showing-over']())
        : { kind: 'bytes', type: 'image/png', bytes }
    }
    if (request.method !== 'POST') return refusal(404, pageSays['not-found']())
    const body = await readBody(request)
    if (!body.ok) return refusal(body.code === 'body-too-large' ? 413 : 400, body)
    if (path === TRIAL_ROUTES.next)
      return takeBody(bodies.next, body.value, (asked) => jsonReply(desk.next(asked.reader)))
    if (path === TRIAL_ROUTES.answer)
      return await takeBody(bodies.answer, body.value, async (given) => {
        const taken = await desk.answer(given)
        return taken.ok ? jsonReply(taken.value) : refusal(422, taken)
      })
    if (path !== TRIAL_ROUTES.quit) return refusal(404, pageSays['not-found']())
    quit()
    return jsonReply({}, 202)
  } catch (error) {
    return faultReply(error)
  }
}
