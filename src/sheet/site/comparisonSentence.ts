import type { WalkComparison } from '../../grade/compare/comparison.js'
import { isWorse } from '../../grade/promises/verdictOrder.js'
import { sheetSays } from '../sentences.js'

/** What a pair of walks comes to, in one sentence. */
export function comparisonSentence({ findings, promises, marks }: WalkComparison): string {
  const changed = findings.filter(({ weight }) => weight === 'changed')
  const head = findings.some(({ weight }) => weight === 'not comparable')
    ? sheetSays['do-not-compare']()
    : changed.length === 0
      ? sheetSays['nothing-changed'](marks.length)
      : changed.every(({ code }) => code === 'reference-or-hand')
        ? sheetSays['reference-changed']()
        : sheetSays['camera-changed']()
  const shared = promises.filter(({ before, after }) => before !== null && after !== null)
  if (shared.length === 0) return `${head.message}.`
  const other = shared.filter(({ before, after }) => before !== after)
  const verdicts =
    other.length === 0
      ? sheetSays['same-verdicts']()
      : sheetSays['other-verdicts'](other.length, shared.length, other.filter(isWorse).length)
  return `${head.message}; ${verdicts.message}.`
}
