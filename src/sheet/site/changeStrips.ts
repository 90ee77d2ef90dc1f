import { changeInPrint, signedPercent } from '../../grade/compare/changeWords.js'
import type { ComparedFigure, ComparedMark, WalkComparison } from '../../grade/compare/comparison.js'
import { groupBy } from '../../math/groupBy.js'
import type { Figures } from '../../units/figures.js'
import { drawIntervalLine, type IntervalEnd } from '../tables/drawIntervalLine.js'
import { ensureRoom, type Pen } from '../document/pen.js'
import { drawSubhead } from '../document/prose.js'
import { tagged } from '../document/tagged.js'
import { baselineBelow, drawLine } from '../document/text.js'
import { GREY, INK, LINE_PT, PAPER_WHITE, SMALL, SMALL_STRONG, TINY_GREY } from '../document/typography.js'
import { strokePath } from '../document/strokePath.js'

const ROW_PT = 13
const HEAD_PT = 26
const LABEL_PT = 58
const GUTTER_PT = 28
/** The strips reach at least so far to each side, relative change. */
const LEAST_REACH = 0.1
const MOST_REACH = 0.6

/** Every mark's change of density and of detail as a dot with its interval about nought, a figure for each light and reference. A filled dot is significant. */
export function drawChangeStrips(pen: Pen, { marks }: WalkComparison, figures: Figures): void {
  if (marks.length === 0) return
  drawSubhead(pen, 'Change at each mark, with its 95 % interval', HEAD_PT + 3 * ROW_PT)
  const reach: Reach = {
    density: reachOf(marks.map(({ density }) => density)),
    detail: reachOf(marks.map(({ detail }) => detail)),
  }
  const groups = groupBy(marks, ({ light, reference }) => `${light}, ${reference}`)
  for (const [title, group] of groups) drawSeries(pen, title, group, reach, figures)
  ensureRoom(pen, ROW_PT)
  tagged(pen, 'P', () =>
    drawLine(
      pen.doc,
      'Filled: significant over all marks and lights together. Open: within the uncertainty. An arrow: the interval goes on.',
      pen.frame.left,
      baselineBelow(pen.y, TINY_GREY),
      TINY_GREY,
    ),
  )
  pen.y += ROW_PT
}

type Reach = Readonly<Record<'density' | 'detail', number>>

function reachOf(figures: readonly (ComparedFigure | null)[]): number {
  const ends = figures.flatMap((figure) => (figure === null ? [] : [figure.change, figure.low, figure.high]))
  const far = Math.max(LEAST_REACH, ...ends.map(Math.abs))
  return Math.min(MOST_REACH, Math.ceil(far * 20) / 20)
}

function drawSeries(
  pen: Pen,
  title: string,
  marks: readonly ComparedMark[],
  reach: Reach,
  figures: Figures,
): void {
  const { doc, frame } = pen
  const height = HEAD_PT + marks.length * ROW_PT + 4
  ensureRoom(pen, height)
  const top = pen.y
  const width = (frame.right - frame.left - LABEL_PT - GUTTER_PT) / 2
  const columns = [
    { word: 'density', left: frame.left + LABEL_PT },
    { word: 'detail', left: frame.left + LABEL_PT + width + GUTTER_PT },
  ] as const
  const alt = `${title}: ${marks.map((mark) => `${figures.distance(mark.distance)} density ${figureWords(mark.density)}, detail ${figureWords(mark.detail)}`).join('; ')}.`
  tagged(
    pen,
    'Figure',
    () => {
      drawLine(doc, title, frame.left, baselineBelow(top, SMALL_STRONG), SMALL_STRONG)
      for (const { word, left } of columns) {
        const y = top + HEAD_PT - 5
        drawLine(doc, word, left + width / 2, top + HEAD_PT - 14, TINY_GREY, 'centre')
        drawLine(doc, signedPercent(-reach[word]), left, y, TINY_GREY)
        drawLine(doc, '0', left + width / 2, y, TINY_GREY, 'centre')
        drawLine(doc, signedPercent(reach[word]), left + width, y, TINY_GREY, 'right')
        const bottom = top + HEAD_PT + marks.length * ROW_PT
        strokePath(doc, LINE_PT.rule, INK, [left + width / 2, top + HEAD_PT], [left + width / 2, bottom])
      }
      marks.forEach((mark, row) => {
        const y = top + HEAD_PT + (row + 0.5) * ROW_PT
        drawLine(doc, figures.distance(mark.distance), frame.left + LABEL_PT - 14, y + 2.6, SMALL, 'right')
        drawFigure(doc, mark.density, columns[0].left, width, y, reach.density)
        drawFigure(doc, mark.detail, columns[1].left, width, y, reach.detail)
      })
    },
    { alt, bbox: [frame.left, top, frame.right, top + height] },
  )
  pen.y = top + height
}

function drawFigure(
  doc: PDFKit.PDFDocument,
  figure: ComparedFigure | null,
  left: number,
  width: number,
  y: number,
  reach: number,
): void {
  if (figure === null) {
    drawLine(doc, 'not known', left + width / 2 + 6, y + 2.3, TINY_GREY)
    return
  }
  doc
    .lineWidth(LINE_PT.hair)
    .moveTo(left, y)
    .lineTo(left + width, y)
    .dash(0.6, { space: 2.4 })
    .stroke(GREY)
    .undash()
  const at = (change: number): number => left + width * (0.5 + Math.max(-1, Math.min(1, change / reach)) / 2)
  const end = (change: number): IntervalEnd => ({
    xPt: at(change),
    beyond: Math.abs(change) > reach ? Math.sign(change) : 0,
  })
  drawIntervalLine(doc, end(figure.low), end(figure.high), y)
  if (Math.abs(figure.change) <= reach)
    doc.circle(at(figure.change), y, 2.2).fillAndStroke(figure.significant ? INK : PAPER_WHITE, INK)
}

function figureWords(figure: ComparedFigure | null): string {
  if (figure === null) return 'not known'
  const { change, interval } = changeInPrint(figure)
  return `${change} (${interval}${figure.significant ? ', significant' : ''})`
}
