import { failure, success, type Outcome } from '../math/outcome.js'
import { referencePresets } from '../measure/referencePresets.js'
import type { Carried } from './newWalk.js'
import { parseReference } from './parseReference.js'

/**
 * Reads what is carried as `new` takes it: the id of a preset, `600x400mm` (a board, width first) or `2m` (a staff).
 * It is named after its kind (plate, characters, card, paper, board, staff), with a number from the second on.
 */
export function parseCarried(text: string, taken: readonly string[]): Outcome<Carried> {
  if (/^chart\b/i.test(text.trim())) {
    return failure('not-built-yet', 'the printed chart is not built yet; carry a board, such as 600x400mm')
  }
  const reference = parseReference(text)
  if (!reference.ok) {
    if (/did you mean|is no size/.test(reference.message)) return reference
    return failure(reference.code, `"${text}" is neither a preset nor a size; write 600x400mm, or plate-eu`)
  }
  const preset = referencePresets.find(({ id }) => id === text.trim())?.id ?? null
  const own = reference.value.kind === 'length' ? 'staff' : 'board'
  const kind = preset?.split('-')[0] ?? own
  const count = taken.filter((name) => name.replace(/ \d+$/, '') === kind).length
  return success({
    name: count === 0 ? kind : `${kind} ${count + 1}`,
    reference: reference.value,
    preset,
    written: text,
  })
}
