import type { IncomingMessage, ServerResponse } from 'node:http'
import type * as z from 'zod'
import { ROUTES } from '../../api.js'
import { dropRoute, takeBackRoute } from './dropRoutes.js'
import { borderSeenRoute, measureRoute, snapRoute } from './measureRoutes.js'
import { beginView } from '../walk/beginWalk.js'
import { beginRoute } from './beginRoutes.js'
import type { PageContext, UnbegunPage } from './pageContext.js'
import { rectifiedRoute, thumbRoute, tileRoute } from './pictureRoutes.js'
import { faultReply } from '../reply/faultReply.js'
import { takeBody } from '../reply/takeBody.js'
import { readBody } from '../reply/readBody.js'
import { jsonReply, refusal, type Reply } from '../reply/reply.js'
import { requestSchemas } from '../reply/requestSchemas.js'
import { measureAllRoute, readSheetRoute, resultsRoute, writeSheetRoute } from './resultRoutes.js'
import { assignRoute, borderRoute, pickRoute } from './saveRoutes.js'
import { keepUnsavedRoute, readUnsavedRoute } from './unsavedRoutes.js'
import { pageSays } from '../../sentences.js'

/** A walk that is served, or the place where one is begun. */
export type ServedPage = PageContext | UnbegunPage

type Getter = (context: PageContext, query: URLSearchParams) => Reply | Promise<Reply>
type Poster<Page = PageContext> = (page: Page, body: unknown, by: string | null) => Reply | Promise<Reply>

const GETTERS: Readonly<Record<string, Getter>> = {
  [ROUTES.begin]: () => jsonReply(null),
  [ROUTES.walk]: async ({ walk }) => {
    await walk.look()
    return jsonReply(walk.view())
  },
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
  [ROUTES.borderSeen]: taking(requestSchemas.borderSeen, borderSeenRoute),
  [ROUTES.border]: taking(requestSchemas.border, borderRoute),
  [ROUTES.measureAll]: taking(requestSchemas.nothing, measureAllRoute),
  [ROUTES.sheet]: taking(requestSchemas.sheet, writeSheetRoute),
  [ROUTES.takeBack]: taking(requestSchemas.takeBack, takeBackRoute),
  [ROUTES.unsaved]: taking(requestSchemas.unsaved, keepUnsavedRoute),
  [ROUTES.quit]: taking(requestSchemas.nothing, quitRoute),
}

/** What is posted before there is a walk. */
const UNBEGUN_POSTERS: Readonly<Record<string, Poster<UnbegunPage>>> = {
  [ROUTES.begin]: taking(requestSchemas.begin, beginRoute),
  [ROUTES.quit]: taking(requestSchemas.nothing, quitRoute),
}

function quitRoute(page: ServedPage): Reply {
  page.quit()
  return jsonReply({}, 202)
}

/** A route that takes bodies of one shape; others are refused. */
function taking<Schema extends z.ZodType, Page = PageContext>(
  schema: Schema,
  route: (page: Page, body: z.output<Schema>, by: string | null) => Reply | Promise<Reply>,
): Poster<Page> {
  return (page, body, by) => takeBody(schema, body, (taken) => route(page, taken, by))
}

/** Answers a request that came through the gate, by its exact path: nothing is decoded, so nothing is written in two ways. */
export async function answerRequest(
  page: ServedPage,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<Reply> {
  const [path = '', query = ''] = (request.url ?? '').split('?', 2)
  const { method } = request
  try {
    if (method === 'GET' && path === ROUTES.events) return listen(page, response)
    if ('place' in page) return await answerUnbegun(page, request, path)
    const getter = method === 'GET' ? routeAt(GETTERS, path) : undefined
    if (getter !== undefined) return await getter(page, new URLSearchParams(query))
    if (method === 'POST' && path === ROUTES.drop)
      return await dropRoute(page, new URLSearchParams(query).get('name') ?? '', request)
    return await posted(method === 'POST' ? routeAt(POSTERS, path) : undefined, page, request)
  } catch (error) {
    return faultReply(error)
  }
}

/** Before there is a walk: what is asked to begin one, and the answers. */
async function answerUnbegun(page: UnbegunPage, request: IncomingMessage, path: string): Promise<Reply> {
  if (request.method === 'GET' && path === ROUTES.begin) return jsonReply(beginView(page.place))
  const poster = request.method === 'POST' ? routeAt(UNBEGUN_POSTERS, path) : undefined
  return poster === undefined ? refusal(404, pageSays['no-walk-yet']()) : await posted(poster, page, request)
}

function routeAt<Route>(routes: Readonly<Record<string, Route>>, path: string): Route | undefined {
  return Object.hasOwn(routes, path) ? routes[path] : undefined
}

async function posted<Page>(
  poster: Poster<Page> | undefined,
  page: Page,
  request: IncomingMessage,
): Promise<Reply> {
  if (poster === undefined) return refusal(404, pageSays['not-found']())
  const body = await readBody(request)
  if (!body.ok) return refusal(body.code === 'body-too-large' ? 413 : 400, body)
  return poster(page, body.value, pageOf(request))
}

function listen(page: ServedPage, response: ServerResponse): Reply {
  const revision = 'walk' in page ? page.walk.revision() : 0
  if (page.events.listen(response, { kind: 'hello', revision })) return { kind: 'stream' }
  return refusal(422, pageSays['too-many-pages']())
}

function pageOf(request: IncomingMessage): string | null {
  const page = request.headers['x-page']
  return typeof page === 'string' && /^[\w-]{1,64}$/.test(page) ? page : null
}
