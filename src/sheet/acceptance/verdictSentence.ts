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
  const met = promises.filter(({ verdict }) => verdict === 'met').length
  const notMet = promises.filter(({ verdict }) => verdict === 'not met').length
  const isMeasured = stills.length > 0
  return `${sheetSays.verdicts({ promised: promises.length, met, notMet, isMeasured }).message}.`
}
