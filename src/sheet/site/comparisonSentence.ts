import type { ComparisonFinding, WalkComparison } from '../../grade/compare/comparison.js'
import { isWorse } from '../../grade/promises/verdictOrder.js'
import { sheetSays } from '../sentences.js'

/** What a pair of walks comes to, in one sentence. */
export function comparisonSentence({ findings, promises, marks }: WalkComparison): string {
  const weighs = (what: ComparisonFinding['weight']): boolean =>
    findings.some(({ weight }) => weight === what)
  const head = weighs('not comparable')
    ? sheetSays['do-not-compare']()
    : weighs('changed')
      ? sheetSays['camera-changed']()
      : sheetSays['nothing-changed'](marks.length)
  const shared = promises.filter(({ before, after }) => before !== null && after !== null)
  if (shared.length === 0) return `${head.message}.`
  const other = shared.filter(({ before, after }) => before !== after)
  const verdicts =
    other.length === 0
      ? sheetSays['same-verdicts']()
      : sheetSays['other-verdicts'](other.length, shared.length, other.filter(isWorse).length)
  return `${head.message}; ${verdicts.message}.`
}
