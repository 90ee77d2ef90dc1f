import type * as z from 'zod'
import { pageSays } from '../../sentences.js'
import { refusal, type Reply } from './reply.js'

/** Hands a body of the right shape to a route; any other is refused. */
export function takeBody<Schema extends z.ZodType, Answer>(
  schema: Schema,
  body: unknown,
  route: (body: z.output<Schema>) => Answer,
): Answer | Reply {
  const parsed = schema.safeParse(body)
  if (parsed.success) return route(parsed.data)
  const [issue] = parsed.error.issues
  return refusal(400, pageSays['wrong-body'](issue?.path.join('.') ?? '', issue?.message ?? 'is wrong'))
}
