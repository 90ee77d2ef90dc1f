import type { IncomingMessage } from 'node:http'
import type * as z from 'zod'
import { failure, type Outcome } from '../../../math/outcome.js'
import { takeBackStill, takeInStill, type TakenStill } from '../../../walk/stills/takeInStill.js'
import { MOST_DROPPED_BYTES, type Refusal, type StillDropped, type TakenBack } from '../../api.js'
import { pageSays } from '../../sentences.js'
import { jsonReply, refusal, type Reply } from '../reply/reply.js'
import type { requestSchemas } from '../reply/requestSchemas.js'
import type { PageWalk } from '../walk/pageWalk.js'
import type { PageContext } from './pageContext.js'

/** No name in an address is longer, characters: a thousand letters of any script. */
const LONGEST_NAME = 4096

/** POST a still's bytes, copied into the walk as they come. */
export async function dropRoute(
  { walk }: PageContext,
  name: string,
  request: IncomingMessage,
): Promise<Reply> {
  const isNamed = name !== '' && name.length <= LONGEST_NAME
  if (!isNamed || request.headers['content-type'] !== 'application/octet-stream')
    return refusal(400, pageSays['no-bytes']())
  const length = Number(request.headers['content-length'] ?? 0)
  if (length > MOST_DROPPED_BYTES) return refusal(413, pageSays['dropped-too-large'](length), name)
  // what is left unread must not cut off the answer
  const bytes = request.iterator({ destroyOnReturn: false }) as AsyncIterable<Buffer>
  const { dir, lights } = walk.reading().walk
  const taken = await takeInStill({ dir, lights }, name, bytes, (work) => walk.ownChange(work))
  if (!taken.ok) {
    await readOn(request)
    return refusal(taken.code === 'still-too-large' ? 413 : 422, taken, name)
  }
  const { file, sha256 } = taken.value
  walk.dropped.set(file, sha256)
  const dropped: StillDropped = { file }
  return jsonReply(dropped)
}

/** A browser hears no answer before it has sent all of its body: what was refused is read to its end, as long as a still could be, and kept nowhere. */
async function readOn(request: IncomingMessage): Promise<void> {
  let size = 0
  const rest = request.iterator({ destroyOnReturn: false }) as AsyncIterable<Buffer>
  for await (const part of rest) {
    size += part.length
    if (size > MOST_DROPPED_BYTES) return
  }
}

async function takeBack(walk: PageWalk, file: string): Promise<Outcome<TakenStill>> {
  const sha256 = walk.dropped.get(file)
  if (sha256 === undefined) return failure(pageSays['not-dropped-here']())
  const [view] = walk.stills([file])
  if (view !== undefined && (view.picks.length > 0 || view.entry !== null))
    return failure(pageSays['in-use']())
  return walk.ownChange(() => takeBackStill(walk.dir, { file, sha256 }))
}

/** POST which stills to take back: only what was dropped here, is the same file still, and nothing was done with. */
export async function takeBackRoute(
  { walk }: PageContext,
  { files }: z.output<typeof requestSchemas.takeBack>,
): Promise<Reply> {
  const refused: Refusal[] = []
  for (const file of files) {
    const gone = await takeBack(walk, file)
    if (!gone.ok) refused.push({ code: gone.code, message: gone.message, file })
    else walk.dropped.delete(file)
  }
  await walk.look()
  const answer: TakenBack = { refused }
  return jsonReply(answer)
}
