import type { IncomingMessage } from 'node:http'
import type * as z from 'zod'
import { failure } from '../../../math/outcome.js'
import { takeBackStill, takeInStill } from '../../../walk/stills/takeInStill.js'
import { MOST_DROPPED_BYTES, type Refusal, type StillDropped, type TakenBack } from '../../api.js'
import { pageSays } from '../../sentences.js'
import { jsonReply, refusal, type Reply } from '../reply/reply.js'
import type { requestSchemas } from '../reply/requestSchemas.js'
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
  const taken = await takeInStill({ dir, lights }, name, bytes, (file) => walk.comesOrGoes(file))
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

/** POST which stills to take back: only what was dropped here, is the same file still, and nothing was done with. */
export async function takeBackRoute(
  { walk }: PageContext,
  { files }: z.output<typeof requestSchemas.takeBack>,
): Promise<Reply> {
  const refused: Refusal[] = []
  for (const file of files) {
    const sha256 = walk.dropped.get(file)
    const [view] = walk.stills([file])
    walk.comesOrGoes(file)
    const isUsed = view !== undefined && (view.pick !== null || view.entry !== null)
    const gone =
      sha256 === undefined
        ? failure(pageSays['not-dropped-here']())
        : isUsed
          ? failure(pageSays['in-use']())
          : await takeBackStill(walk.dir, { file, sha256 })
    if (!gone.ok) refused.push({ code: gone.code, message: gone.message, file })
    else walk.dropped.delete(file)
  }
  await walk.look()
  const answer: TakenBack = { refused }
  return jsonReply(answer)
}
