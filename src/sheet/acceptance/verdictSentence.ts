import type { Verdict } from '../../grade/judgement.js'
import { sheetSays } from '../sentences.js'
import { countStills, type WalkResults } from '../../walk/schemas/resultsSchema.js'

/** The one sentence a buyer reads first: "2 of 5 promised grades met, 2 not met, 1 undecided." */
export function verdictSentence(results: WalkResults): string {
  const { promises, stills, marks } = results
  if (promises.length === 0) {
    const said =
      stills.length === 0
        ? sheetSays['nothing-measured-or-promised']()
        : sheetSays['nothing-promised'](marks.length, countStills(stills))
    return `${said.message}.`
  }
  const [most, least] = [true, false].map((isMost) =>
    promises.filter(({ kind }) => (kind === 'most') === isMost),
  )
  const count = (of: typeof promises, verdict: Verdict): number =>
    of.filter((promise) => promise.verdict === verdict).length
  const parts = [
    ...(least!.length === 0
      ? []
      : [
          sheetSays.verdicts({
            promised: least!.length,
            met: count(least!, 'met'),
            notMet: count(least!, 'not met'),
            isMeasured: stills.length > 0,
          }).message,
        ]),
    ...(most!.length === 0
      ? []
      : [sheetSays['must-not-see'](most!.length, count(most!, 'met'), count(most!, 'not shown')).message]),
  ]
  return `${parts.join('; ')}.`
}
