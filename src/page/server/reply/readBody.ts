import type { IncomingMessage } from 'node:http'
import { failure, success, type Outcome } from '../../../math/outcome.js'
import { pageSays } from '../../sentences.js'

/** No message of the page is longer, bytes: 500 stills assigned at once take a fifth of it. This project's convention. */
export const MOST_BODY_BYTES = 1_000_000

/** Reads the JSON body of a request. Fails where it is none, says it is of another type, or is too large, of which no more is read than allowed. */
export async function readBody(
  request: IncomingMessage,
): Promise<Outcome<unknown, 'bad-request' | 'body-too-large'>> {
  if (!/^application\/json(;|$)/.test(request.headers['content-type'] ?? '')) {
    return failure(pageSays['not-json']())
  }
  const tooLarge = failure(pageSays['body-too-large'](MOST_BODY_BYTES / 1e6))
  if (Number(request.headers['content-length'] ?? 0) > MOST_BODY_BYTES) return tooLarge
  const parts: Buffer[] = []
  let size = 0
  // what is left unread must not cut off the answer
  for await (const part of request.iterator({ destroyOnReturn: false }) as AsyncIterable<Buffer>) {
    size += part.length
    if (size > MOST_BODY_BYTES) return tooLarge
    parts.push(part)
  }
  try {
    return success(JSON.parse(Buffer.concat(parts).toString('utf8')) as unknown)
  } catch {
    return failure(pageSays['no-json']())
  }
}
