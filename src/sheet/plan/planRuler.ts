import { type Figures, figuresFor } from '../../units/figures.js'
import type { PlannedRange, WalkPlan } from '../../walk/plan/planWalk.js'
import { ensureRoom, type Pen } from '../document/pen.js'
import { placeFlags } from '../../plot/placeFlags.js'
import { OUTSIDE_NOTE, OUTSIDE_STRONG } from './planHead.js'
import { tagged } from '../document/tagged.js'
import { drawLine, textWidthPt } from '../document/text.js'
import { INK, LINE_PT, PAPER_WHITE } from '../document/typography.js'
import { strokePath } from '../document/strokePath.js'

const LABELS_PT = 26
const ROW_PT = 15
/** Two readings of one sheet are told apart from here on: this project's convention. */
const TELLING = 0.02

/** The tape as one black ruler to scale: the marks as ticks, promised ones bold; below, how far each grade should hold. */
export function drawPlanRuler(pen: Pen, plan: WalkPlan, figures: Figures): void {
  const { doc, frame } = pen
  const grades = plan.ranges.filter((range) => range.distanceM !== null)
  const heightPt = LABELS_PT + 16 + grades.length * ROW_PT
  ensureRoom(pen, heightPt)
  const top = pen.y
  const farthestM = plan.marks.at(-1)!.distanceM * 1.04
  const at = (distanceM: number): number =>
    frame.left + (Math.min(distanceM, farthestM) / farthestM) * (frame.right - frame.left)
  const rulerAt = top + LABELS_PT
  tagged(
    pen,
    'Figure',
    () => {
      strokePath(doc, 2.4, INK, [frame.left, rulerAt], [frame.right, rulerAt])
      drawTicks(doc, plan, figures, at, rulerAt, frame.left, frame.right)
      grades.forEach((range, index) =>
        drawEnd(doc, range, figures, at, rulerAt + 16 + index * ROW_PT, frame.left, frame.right, farthestM),
      )
    },
    { alt: altText(plan, figures), bbox: [frame.left, top, frame.right, top + heightPt] },
  )
  pen.y = top + heightPt + 4
}

function drawTicks(
  doc: PDFKit.PDFDocument,
  plan: WalkPlan,
  figures: Figures,
  at: (distanceM: number) => number,
  rulerAt: number,
  left: number,
  right: number,
): void {
  const flags = plan.marks.map(({ distanceM, purpose }, index) => {
    const last = index === plan.marks.length - 1
    const text = `${figures.bareDistance(distanceM)}${last ? ` ${figures.lengthUnit}` : ''}`
    const style = purpose === 'promise' ? OUTSIDE_STRONG : OUTSIDE_NOTE
    return { x: at(distanceM), text, style, width: textWidthPt(doc, text, style) + 3 }
  })
  const centres = placeFlags(flags, left, right)
  flags.forEach(({ x, text, style }, index) => {
    const centre = centres[index] ?? x
    strokePath(doc, LINE_PT.frame, INK, [x, rulerAt], [x, rulerAt - 8])
    if (Math.abs(centre - x) > 1) {
      strokePath(doc, LINE_PT.hair, INK, [x, rulerAt - 8], [centre, rulerAt - 13])
    }
    drawLine(doc, text, centre, rulerAt - 15, style, 'centre')
  })
}

/** A grade's bracket: from the camera to where it should end, its end turned up to the ruler; open where it ends beyond it. */
function drawEnd(
  doc: PDFKit.PDFDocument,
  range: PlannedRange,
  figures: Figures,
  at: (distanceM: number) => number,
  y: number,
  left: number,
  right: number,
  farthestM: number,
): void {
  const endM = range.distanceM!
  const beyond = endM > farthestM
  const end = at(endM)
  doc
    .lineWidth(LINE_PT.rule)
    .moveTo(left, y - 4)
    .lineTo(left, y)
    .lineTo(end, y)
  if (!beyond) doc.lineTo(end, y - 4)
  doc.stroke(INK)
  const words = endWords(range, figures)
  const width = textWidthPt(doc, words, OUTSIDE_NOTE)
  // On the side where there is room; within the bracket the line makes way for the words.
  if (end + 6 + width <= right) drawLine(doc, words, end + 5, y + 3, OUTSIDE_NOTE)
  else {
    const from = Math.max(left + 8, end - width - 16)
    doc.rect(from - 3, y - 5, width + 6, 10).fill(PAPER_WHITE)
    drawLine(doc, words, from, y + 3, OUTSIDE_NOTE)
  }
}

function endWords(
  { grade, distanceM, boundsM, rectilinearDistanceM }: PlannedRange,
  figures: Figures,
): string {
  const parts =
    rectilinearDistanceM !== null && Math.abs(rectilinearDistanceM / distanceM! - 1) > TELLING
      ? `, ${figures.distance(rectilinearDistanceM)} if rectilinear`
      : ''
  const limit = figuresFor('metric').limit(grade.limit)
  const own = figures.isMetric ? '' : `, ${figures.ownLimit(grade.limit)} ${figures.densityUnit}`
  const { value, low, high } = figures.reach({ value: distanceM!, ...boundsM! })
  const end = low === high ? value : `${value} (${low} to ${high})`
  return `${grade.name} (${limit}${own}) to ${end} ${figures.lengthUnit}${parts}`
}

function altText(plan: WalkPlan, figures: Figures): string {
  const marks = plan.marks.map(({ distanceM }) => figures.bareDistance(distanceM)).join(', ')
  const ends = plan.ranges
    .filter(({ distanceM }) => distanceM !== null)
    .map((range) => endWords(range, figures))
  return `A ruler with the marks at ${marks} ${figures.lengthUnit}. ${ends.join('; ')}.`
}
