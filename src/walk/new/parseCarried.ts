import { chartPaper } from '../../chart/printed/chartPapers.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import { chartReference } from '../../measure/reference/chartReference.js'
import { referencePresets } from '../../measure/reference/referencePresets.js'
import { newSays } from './sentences.js'
import type { Carried } from './newWalk.js'
import { parseReference } from '../read/parseReference.js'

/**
 * Reads what is carried as `new` takes it: the id of a preset, `600x400mm` (a board, width first), `2m` (a staff) or `chart A2`.
 * It is named after its kind (plate, characters, card, paper, board, staff, chart), with a number from the second on.
 */
export function parseCarried(text: string, taken: readonly string[]): Outcome<Carried> {
  const chart = /^chart\b\s*(.*)$/i.exec(text.trim())
  if (chart !== null) return carriedChart(chart[1]!, taken)
  const reference = parseReference(text)
  if (!reference.ok) return reference
  const preset = referencePresets.find(({ id }) => id === text.trim())?.id ?? null
  const own = reference.value.kind === 'length' ? 'staff' : 'board'
  const kind = preset?.split('-')[0] ?? own
  return success({ name: nameFor(kind, taken), reference: reference.value, preset, written: text })
}

function carriedChart(paperId: string, taken: readonly string[]): Outcome<Carried> {
  const paper = chartPaper(paperId)
  if (paper === undefined) return failure(newSays['unknown-paper'](paperId))
  const name = nameFor('chart', taken)
  return success({ name, reference: chartReference(name, paper, null), preset: null })
}

function nameFor(kind: string, taken: readonly string[]): string {
  const count = taken.filter((name) => name.replace(/ \d+$/, '') === kind).length
  return count === 0 ? kind : `${kind} ${count + 1}`
}
