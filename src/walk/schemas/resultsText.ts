import type { WalkResults } from './resultsSchema.js'

/** The text of `results.json`: the same results always give the same text. */
export function resultsText(results: WalkResults): string {
  return `${JSON.stringify(results, null, 2)}\n`
}
