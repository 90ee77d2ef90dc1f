import { failure, success, type Outcome } from '../../../math/outcome.js'
import { type PickEntry, pickSchema } from '../../../walk/schemas/picksSchema.js'
import { pageSays } from '../../sentences.js'

/** The entry of picks.json that a pick of the page becomes, taken on the still of this hash; fails with `bad-pick` where it is none. */
export function pickEntryOf(
  pick: Readonly<Record<string, unknown>> & { readonly reference: string | null },
  sha256: string,
): Outcome<PickEntry, 'bad-pick'> {
  const { reference, ...points } = pick
  const entry = { sha256, ...(reference === null ? {} : { reference }), ...points }
  const parsed = pickSchema.safeParse(entry)
  if (parsed.success) return success(parsed.data)
  const [issue] = parsed.error.issues
  return failure(pageSays['bad-pick'](issue?.path.join('.') ?? 'the pick', issue?.message ?? 'is none'))
}
