import { moduleM } from '../../chart/printed/chartGeometry.js'
import type { ChartPaper } from '../../chart/printed/chartPapers.js'
import {
  codeCells,
  LETTER_ROWS,
  rowBox,
  rowStrokes,
  type LetterCard,
  type LetterSize,
} from '../../chart/printed/letterSheet.js'
import { STRIP_COVERAGE } from '../../chart/printed/stripSheet.js'
import { greySurface, shareWithin, type Surface } from '../camera/planarTarget.js'

const PAPER_LIGHT = 0.75
const INK_LIGHT = 0.045

/** A letter card as a surface, metres from the sheet's middle: strokes by their distance, the faint row's lines as their coverage. */
export function letterSurface(paper: ChartPaper, size: LetterSize, card: LetterCard): Surface {
  const module = moduleM(paper)
  const half = size.strokeM / module / 2
  const cells = codeCells(card.number)
  const rows = LETTER_ROWS.map((row) => ({
    box: rowBox(paper, size, row),
    ink: row === 'full' ? 1 : STRIP_COVERAGE.faint,
    segments: rowStrokes(paper, size, row, card[row]).flatMap((line) =>
      line.slice(1).map((end, index) => [...line[index]!, ...end] as const),
    ),
  }))
  const inkAt = (x: number, y: number, boxX: number, boxY: number): number => {
    let ink = 0
    for (const cell of cells)
      ink += shareWithin(x, boxX, cell.left, cell.right) * shareWithin(y, boxY, cell.top, cell.bottom)
    for (const { box, ink: full, segments } of rows) {
      if (x < box.left - boxX || x > box.right + boxX || y < box.top - boxY || y > box.bottom + boxY) continue
      const edge = (boxX + boxY) / 2
      const off = Math.min(...segments.map((one) => distance(one, x, y))) - half
      ink += full * Math.min(1, Math.max(0, 0.5 - off / edge))
    }
    return Math.min(1, ink)
  }
  return greySurface(paper.widthM / 2, paper.heightM / 2, (u, v, boxU, boxV) => {
    const ink = inkAt(7 + u / module, 5 + v / module, boxU / module, boxV / module)
    return PAPER_LIGHT + (INK_LIGHT - PAPER_LIGHT) * ink
  })
}

function distance([x0, y0, x1, y1]: readonly [number, number, number, number], x: number, y: number): number {
  const [dx, dy] = [x1 - x0, y1 - y0]
  const t = Math.max(0, Math.min(1, ((x - x0) * dx + (y - y0) * dy) / (dx * dx + dy * dy)))
  return Math.hypot(x - x0 - t * dx, y - y0 - t * dy)
}
