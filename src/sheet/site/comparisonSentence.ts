import type { WalkComparison } from '../../grade/compare/comparison.js'
import { isWorse } from '../../grade/promises/verdictOrder.js'

/** What a pair of walks comes to, in one sentence. */
export function comparisonSentence({ findings, promises, marks }: WalkComparison): string {
  const head = findings.some(({ weight }) => weight === 'not comparable')
    ? 'The two walks do not compare'
    : findings.some(({ weight }) => weight === 'changed')
      ? 'The camera has changed'
      : `Nothing has changed beyond the uncertainty on ${marks.length} shared ${marks.length === 1 ? 'mark' : 'marks'}`
  const shared = promises.filter(({ before, after }) => before !== null && after !== null)
  if (shared.length === 0) return `${head}.`
  const other = shared.filter(({ before, after }) => before !== after)
  const worse = other.filter(isWorse).length
  const verdicts =
    other.length === 0
      ? 'every promise comes to the same verdict'
      : `${other.length} of ${shared.length} promises ${other.length === 1 ? 'comes' : 'come'} to another verdict, ${worse} for the worse`
  return `${head}; ${verdicts}.`
}
