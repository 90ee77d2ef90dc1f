import type { Verdict } from '../../../grade/judgement.js'

/** The verdict as a word in a frame, as on the sheet: solid (met), open (not met), dashed (not shown). */
export function VerdictFrame({ verdict }: { readonly verdict: Verdict }) {
  return (
    <span class="verdict" data-verdict={verdict}>
      {verdict}
    </span>
  )
}
