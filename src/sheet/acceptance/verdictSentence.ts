import { countStills, type WalkResults } from '../../walk/schemas/resultsSchema.js'

/** The one sentence a buyer reads first: "2 of 5 promised grades met, 2 not met, 1 undecided." */
export function verdictSentence(results: WalkResults): string {
  const { promises, stills, marks } = results
  if (promises.length === 0) {
    if (stills.length === 0) return 'No still could be measured, and no grade was promised.'
    return `No grade was promised; ${counted(marks.length, 'mark')} measured on ${counted(countStills(stills), 'still')}.`
  }
  const met = promises.filter(({ verdict }) => verdict === 'met').length
  const notMet = promises.filter(({ verdict }) => verdict === 'not met').length
  const undecided = promises.length - met - notMet
  const parts = [`${met} of ${promises.length} promised ${promises.length === 1 ? 'grade' : 'grades'} met`]
  if (notMet > 0) parts.push(`${notMet} not met`)
  if (undecided > 0) parts.push(`${undecided} undecided`)
  const tail = stills.length === 0 ? '; no still could be measured' : ''
  return `${parts.join(', ')}${tail}.`
}

function counted(count: number, word: string): string {
  return `${count} ${word}${count === 1 ? '' : 's'}`
}
