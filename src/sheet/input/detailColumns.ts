import type { WalkResults } from '../../walk/schemas/resultsSchema.js'

/** Whether grades and ranges with detail are printed: only of a walk judged by it. */
export function judgesDetail({ walk }: WalkResults): boolean {
  return walk.judge === 'detail'
}

/** Whether px/m with detail are printed: of a walk judged by it, and where they were measured all the same. */
export function columnsWithDetail(results: WalkResults): boolean {
  return judgesDetail(results) || results.marks.some((mark) => mark.effectiveDensity !== null)
}
