import { drawTable } from '../tables/dataTable.js'
import type { Pen } from '../document/pen.js'
import { drawList, drawParagraph, drawSubhead } from '../document/prose.js'
import { sheetSays } from '../sentences.js'
import type { SheetContext } from '../input/sheetContext.js'
import { SIZE_PT, SMALL, TINY_GREY } from '../document/typography.js'

const TINY = { sizePt: SIZE_PT.tiny }

/** True of most stills of a camera that smooths noise away: said once, with the conventions, instead of beside every file. */
export const QUIET_CAMERA = 'k-upper-bound'

/** Every measured file with its hash and what was noted on it; then every file that was not measured, and why. */
export function drawFilesTable(pen: Pen, context: SheetContext): void {
  const { results, figures } = context
  drawSubhead(pen, 'Files measured', 50)
  if (results.stills.length === 0) drawParagraph(pen, 'None.', SMALL)
  drawTable(
    pen,
    [
      { head: 'File, and its SHA-256', share: 214, style: TINY, mostLines: 6 },
      { head: 'Light, mark, reference', share: 84, style: TINY },
      { head: 'Points', share: 28, style: TINY },
      { head: 'Noted', share: 134, style: TINY, mostLines: 14 },
    ],
    results.stills.map((still) => ({
      cells: [
        `${still.file}\n${still.sha256}`,
        [
          still.light ?? 'no light',
          still.distance === null ? 'no mark' : figures.distance(still.distance),
          still.reference,
        ].join(', '),
        still.method === 'chart' ? 'chart' : 'picked',
        still.problems
          .filter(({ code }) => code !== QUIET_CAMERA)
          .map(({ message }) => message)
          .join('; '),
      ],
    })),
  )
  const left = [...results.failed, ...results.unassigned]
  drawSubhead(pen, 'Files not measured, and why', 50)
  if (left.length === 0) drawParagraph(pen, 'None.', SMALL)
  drawTable(
    pen,
    [
      { head: 'File', share: 150, style: TINY },
      { head: 'Why', share: 310, style: TINY },
    ],
    left.map(({ file, message }) => ({ cells: [file, message] })),
  )
  drawSubhead(pen, 'Inputs', 40)
  drawTable(
    pen,
    [
      { head: 'Input', share: 150, style: TINY },
      { head: 'SHA-256', share: 310, style: TINY_GREY },
    ],
    [
      { cells: ['walk.yaml', results.inputs.walk ?? 'none'] },
      { cells: ['picks.json', results.inputs.picks ?? 'none'] },
      { cells: ['the walk’s own grading file', results.inputs.grading ?? 'none: built in'] },
    ],
  )
  drawSubhead(pen, 'Attached to this file', 40)
  const { attached } = context
  drawParagraph(
    pen,
    `${sheetSays[attached.length > 0 ? 'attached-with' : 'nothing-attached']().message}.`,
    SMALL,
  )
  drawList(pen, attached, SMALL)
}
