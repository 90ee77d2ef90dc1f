import type { Figures } from '../../units/figures.js'
import type { PlannedMark, WalkPlan } from '../../walk/plan/planWalk.js'
import { purposeWords } from '../../walk/plan/planWords.js'
import type { Walk } from '../../walk/read/walk.js'
import { drawRule } from '../document/drawRule.js'
import { type Pen, turnPage } from '../document/pen.js'
import { OUTSIDE_GREY, OUTSIDE_STRONG } from './planHead.js'
import { artifact, tagged, within } from '../document/tagged.js'
import { drawLine, drawLines, wrapText } from '../document/text.js'
import { GREY, INK, LINE_PT, SIZE_PT, TINY_GREY } from '../document/typography.js'
import { strokePath } from '../document/strokePath.js'

/** A cell that a cold hand can write into. */
const ROW_PT = 31
const LEAST_ROW_PT = 18
const MARK_PT = 104
const DENSITY_PT = 62
const REMARKS_PT = 120
/** Lights side by side; more go into a table of their own. */
const MOST_LIGHTS = 4

/** The table to fill in by hand: a row a mark and one for walking, a column a light for the still's number, room for remarks. */
export function drawPlanFillTable(pen: Pen, walk: Walk, plan: WalkPlan, figures: Figures): void {
  for (let first = 0; first < walk.lights.length; first += MOST_LIGHTS) {
    drawOne(pen, walk, plan, figures, walk.lights.slice(first, first + MOST_LIGHTS))
  }
}

function drawOne(pen: Pen, walk: Walk, plan: WalkPlan, figures: Figures, lights: readonly string[]): void {
  const hasDensity = plan.marks.some(({ densityPxPerM }) => densityPxPerM !== null)
  const { left, right } = pen.frame
  const lightsFrom = left + MARK_PT + (hasDensity ? DENSITY_PT : 0)
  const lightPt = (right - REMARKS_PT - lightsFrom) / lights.length
  const edges = [...lights.map((_, index) => lightsFrom + index * lightPt), right - REMARKS_PT]
  const rows = plan.marks.length + 1
  const rowPt = Math.max(LEAST_ROW_PT, Math.min(ROW_PT, (pen.frame.bottom - pen.y - 20) / rows))
  if (pen.frame.bottom - pen.y < 20 + 4 * rowPt) turnPage(pen)

  const head = (): void => {
    const y = pen.y + 8
    drawLine(pen.doc, 'Mark', left, y, TINY_GREY)
    if (hasDensity)
      drawLine(pen.doc, `${figures.densityUnit} expected`, lightsFrom - 5, y, TINY_GREY, 'right')
    lights.forEach((light, index) => {
      const [text = ''] = wrapText(pen.doc, `${light}: still no.`, lightPt - 8, TINY_GREY, 1)
      drawLine(pen.doc, text, edges[index]! + 4, y, TINY_GREY)
    })
    drawLine(pen.doc, 'Seen by eye, remarks', right - REMARKS_PT + 4, y, TINY_GREY)
  }
  within(pen, 'Table', () => {
    within(pen, 'TR', () => tagged(pen, 'TH', head, { scope: 'Column' }))
    pen.y += 12
    drawRule(pen, pen.y, LINE_PT.rule, left, right, INK)
    for (const mark of plan.marks) row(figures.distance(mark.distanceM), mark)
    row('walking', null)
  })
  pen.y += 8

  function row(label: string, mark: PlannedMark | null): void {
    if (pen.y + rowPt > pen.frame.bottom) {
      turnPage(pen)
      artifact(pen, head, 'Pagination')
      pen.y += 12
      drawRule(pen, pen.y, LINE_PT.rule, left, right, INK)
    }
    const note = mark === null ? 'one still a light' : purposeWords(mark.purpose, mark.distanceM, walk)
    const middle = pen.y + rowPt / 2
    within(pen, 'TR', () => {
      tagged(
        pen,
        'TH',
        () => {
          const lines = wrapText(pen.doc, note, MARK_PT - 6, TINY_GREY, 1)
          drawLine(pen.doc, label, left, note === '' ? middle + 3.4 : middle, OUTSIDE_STRONG)
          drawLines(pen.doc, lines, left, middle + 2.5, { ...TINY_GREY, sizePt: SIZE_PT.tiny })
        },
        { scope: 'Row' },
      )
      if (hasDensity) {
        const { densityPxPerM: value = null, boundsPxPerM = null } = mark ?? {}
        const text = value === null ? '' : figures.interval({ value, ...boundsPxPerM! })
        tagged(pen, 'TD', () => drawLine(pen.doc, text, lightsFrom - 5, middle + 3.2, OUTSIDE_GREY, 'right'))
      }
      // Empty, to be written into; they stand in the structure so that every row has its columns.
      for (let cell = 0; cell <= lights.length; cell++) tagged(pen, 'TD', () => undefined)
    })
    artifact(pen, () => {
      for (const x of edges) {
        strokePath(pen.doc, LINE_PT.hair, GREY, [x, pen.y], [x, pen.y + rowPt])
      }
    })
    pen.y += rowPt
    drawRule(pen, pen.y)
  }
}
