import { drawTable } from '../tables/dataTable.js'
import type { Pen } from '../document/pen.js'
import { asSentence } from '../../sentences.js'
import { drawParagraph, drawSubhead } from '../document/prose.js'
import type { StillEntry } from '../../walk/schemas/resultsSchema.js'
import type { SheetContext } from '../input/sheetContext.js'
import { SIZE_PT, SMALL, TINY_GREY } from '../document/typography.js'

const TINY = { sizePt: SIZE_PT.tiny }

/** True of most stills of a camera that smooths noise away: said once, with the conventions, instead of beside every file. */
export const QUIET_CAMERA = 'k-upper-bound'

/** Every measured file with its hash and what was noted on it; then every file that was not measured, and why. */
export function drawFilesTable(pen: Pen, context: SheetContext): void {
  const { results, figures } = context
  const notes = [...new Set(results.stills.flatMap(notedOn))]
  drawSubhead(pen, 'Files measured', 50)
  if (results.stills.length === 0) drawParagraph(pen, 'None.', SMALL)
  drawTable(
    pen,
    [
      { head: 'File', share: 100, style: TINY, mostLines: 6 },
      { head: 'SHA-256', share: 205, style: TINY_GREY },
      { head: 'Light, mark, reference', share: 85, style: TINY },
      { head: 'Points', share: 28, style: TINY },
      { head: 'Noted', share: 42, style: TINY, mostLines: 6 },
    ],
    results.stills.map((still) => ({
      cells: [
        still.file,
        still.sha256,
        [
          still.light ?? 'no light',
          still.distance === null ? 'no mark' : figures.distance(still.distance),
          still.reference,
        ].join(', '),
        still.method === 'chart' ? 'chart' : 'picked',
        notedOn(still)
          .map((message) => notes.indexOf(message) + 1)
          .join(', '),
      ],
    })),
  )
  if (notes.length > 0) drawSubhead(pen, 'Noted on files', 30)
  drawParagraph(pen, notes.map((message, index) => `${index + 1}: ${asSentence(message)}`).join(' '), TINY)
  const left = [...results.failed, ...results.unassigned]
  if (left.length === 0) drawParagraph(pen, 'No file was left unmeasured.', SMALL)
  else drawSubhead(pen, 'Files not measured, and why', 50)
  drawTable(
    pen,
    [
      { head: 'File', share: 150, style: TINY },
      { head: 'Why', share: 310, style: TINY },
    ],
    left.map(({ file, message }) => ({ cells: [file, message] })),
  )
  drawSubhead(pen, 'Inputs, and what is attached to this file', 40)
  const { attached } = context
  const within = (name: string): string => attached.get(name) ?? 'not attached'
  drawTable(
    pen,
    [
      { head: 'Input', share: 90, style: TINY },
      { head: 'SHA-256', share: 210, style: TINY_GREY },
      { head: 'Inside this PDF', share: 160, style: TINY },
    ],
    [
      { cells: ['walk.yaml', results.inputs.walk ?? 'none', within('walk.yaml')] },
      { cells: ['picks.json', results.inputs.picks ?? 'none', within('picks.json')] },
      { cells: ['the walk’s own grading file', results.inputs.grading ?? 'none: built in', 'not attached'] },
      { cells: ['results.json', '', within('results.json')] },
    ],
  )
}

/** What was noted on a still, a sentence each. */
function notedOn({ problems }: StillEntry): string[] {
  return problems.filter(({ code }) => code !== QUIET_CAMERA).map(({ message }) => message)
}
