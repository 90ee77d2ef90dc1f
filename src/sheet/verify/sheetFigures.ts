import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { marksRows } from '../acceptance/marksTable.js'
import { promiseClaim, promiseFigures } from '../acceptance/promiseBlock.js'
import { readFigures } from '../acceptance/readPromises.js'
import { rangesRows } from '../acceptance/rangesTable.js'
import { sheetContext } from '../input/sheetContext.js'
import type { TableRow } from '../tables/tableColumns.js'
import { verdictSentences } from '../acceptance/verdictSentences.js'

/** A part of the sheet that must be printed as the results have it: what it is, and its texts, in the order they are printed. */
export interface SheetFigure {
  readonly what: string
  readonly texts: readonly string[]
}

/** What the sheet of these results prints, in the order of its pages: the sentence, every promise, every mark, every range, every file's hash. */
export function sheetFigures(results: WalkResults): SheetFigure[] {
  const context = sheetContext(results)
  return [
    { what: 'the sentences on the first page', texts: verdictSentences(results) },
    ...results.promises.map((promise, index) => ({
      what: `promise ${index + 1}, ${promiseClaim(promise, context).join(': ')}`,
      texts: [
        `${index + 1}${promiseClaim(promise, context)[0]}`,
        ...promiseClaim(promise, context).slice(1),
        `${(promise.kind === 'read' ? readFigures : promiseFigures)(promise, context)
          .flatMap(({ texts }): readonly (string | undefined)[] => texts)
          .join('')}${promise.verdict}`,
      ],
    })),
    ...rowFigures(marksRows(context), (first) => `the ${first} ${context.figures.lengthUnit} mark`),
    ...rowFigures(rangesRows(context), (first) => `how far ${first} holds`),
    ...results.stills.map(({ file, sha256 }) => ({ what: `the hash of ${file}`, texts: [file, sha256] })),
    ...(['walk', 'picks', 'grading'] as const).flatMap((name) => {
      const sha256 = results.inputs[name]
      return sha256 === null ? [] : [{ what: `the hash of its ${name}`, texts: [sha256] }]
    }),
  ]
}

function rowFigures(rows: readonly TableRow[], called: (first: string) => string): SheetFigure[] {
  let group = ''
  return rows.map(({ group: head, cells }): SheetFigure => {
    if (head !== undefined) {
      group = head
      return { what: group, texts: [head] }
    }
    return { what: `${group}: ${called(cells[0] ?? '')}`, texts: [cells.join('')] }
  })
}
