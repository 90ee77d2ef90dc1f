import type { IncomingMessage, ServerResponse } from 'node:http'
import type * as z from 'zod'
import { faultLine, ProofwalkError, ProofwalkErrors } from '../../../errors.js'
import { ROUTES } from '../../api.js'
import { measureRoute, snapRoute } from './measureRoutes.js'
import type { PageContext } from './pageContext.js'
import { rectifiedRoute, thumbRoute, tileRoute } from './pictureRoutes.js'
import { readBody } from '../reply/readBody.js'
import { jsonReply, refusal, type Reply } from '../reply/reply.js'
import { requestSchemas } from '../reply/requestSchemas.js'
import { measureAllRoute, readSheetRoute, resultsRoute, writeSheetRoute } from './resultRoutes.js'
import { assignRoute, borderRoute, pickRoute } from './saveRoutes.js'
import { keepUnsavedRoute, readUnsavedRoute } from './unsavedRoutes.js'
import { pageSays } from '../../sentences.js'

type Getter = (context: PageContext, query: URLSearchParams) => Reply | Promise<Reply>
type Poster = (context: PageContext, body: unknown, by: string | null) => Reply | Promise<Reply>

const GETTERS: Readonly<Record<string, Getter>> = {
  [ROUTES.walk]: ({ walk }) => jsonReply(walk.view()),
  [ROUTES.thumb]: thumbRoute,
  [ROUTES.tile]: tileRoute,
  [ROUTES.rectified]: rectifiedRoute,
  [ROUTES.results]: resultsRoute,
  [ROUTES.sheet]: readSheetRoute,
  [ROUTES.unsaved]: readUnsavedRoute,
}

const POSTERS: Readonly<Record<string, Poster>> = {
  [ROUTES.measure]: taking(requestSchemas.measure, measureRoute),
  [ROUTES.snap]: taking(requestSchemas.snap, snapRoute),
  [ROUTES.pick]: taking(requestSchemas.pick, pickRoute),
  [ROUTES.assign]: taking(requestSchemas.assign, assignRoute),
  [ROUTES.border]: taking(requestSchemas.border, borderRoute),
  [ROUTES.measureAll]: taking(requestSchemas.nothing, measureAllRoute),
  [ROUTES.sheet]: taking(requestSchemas.sheet, writeSheetRoute),
  [ROUTES.unsaved]: taking(requestSchemas.unsaved, keepUnsavedRoute),
  [ROUTES.quit]: taking(requestSchemas.nothing, (context) => {
    context.quit()
    return jsonReply({}, 202)
  }),
}

/** A route that takes bodies of one shape; others are refused. */
function taking<Schema extends z.ZodType>(
  schema: Schema,
  route: (context: PageContext, body: z.output<Schema>, by: string | null) => Reply | Promise<Reply>,
): Poster {
  return (context, body, by) => {
    const parsed = schema.safeParse(body)
    if (parsed.success) return route(context, parsed.data, by)
    const [issue] = parsed.error.issues
    return refusal(400, pageSays['wrong-body'](issue?.path.join('.') ?? '', issue?.message ?? 'is wrong'))
  }
}

/** Answers a request that came through the gate, by its exact path: nothing is decoded, so nothing is written in two ways. */
export async function answerRequest(
  context: PageContext,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<Reply> {
  const [path = '', query = ''] = (request.url ?? '').split('?', 2)
  if (request.method === 'GET' && path === ROUTES.events) return listen(context, response)
  const getter = request.method === 'GET' && Object.hasOwn(GETTERS, path) ? GETTERS[path] : undefined
  const poster = request.method === 'POST' && Object.hasOwn(POSTERS, path) ? POSTERS[path] : undefined
  try {
    if (getter !== undefined) return await getter(context, new URLSearchParams(query))
    if (poster === undefined) return refusal(404, pageSays['not-found']())
    const body = await readBody(request)
    if (!body.ok) return refusal(body.code === 'body-too-large' ? 413 : 400, body)
    return await poster(context, body.value, pageOf(request))
  } catch (error) {
    return faultReply(error)
  }
}

function listen({ events, walk }: PageContext, response: ServerResponse): Reply {
  if (events.listen(response, { kind: 'hello', revision: walk.revision() })) return { kind: 'stream' }
  return refusal(422, pageSays['too-many-pages']())
}

function pageOf(request: IncomingMessage): string | null {
  const page = request.headers['x-page']
  return typeof page === 'string' && /^[\w-]{1,64}$/.test(page) ? page : null
}

/** What a user can mend is told in the words the command line has for it; the rest is a fault of ours. */
function faultReply(error: unknown): Reply {
  if (error instanceof ProofwalkErrors)
    return refusal(422, { code: error.code, message: error.faults.map(faultLine).join('\n') })
  if (error instanceof ProofwalkError) return refusal(422, { code: error.code, message: faultLine(error) })
  return refusal(500, { code: 'fault', message: error instanceof Error ? error.message : String(error) })
}
