import type { Figures } from '../../units/figures.js'
import type { WalkPlan } from '../../walk/plan/planWalk.js'
import { purposeWords } from '../../walk/plan/planWords.js'
import type { PlannedStill } from '../../walk/plan/stillsToTake.js'
import { groupBy } from '../../math/groupBy.js'
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
const LEAST_ROW_PT = 24
const MARK_PT = 104
const DENSITY_PT = 62
const REMARKS_PT = 100
/** Where a still's tick box stands in its cell, and how large it is. */
const BOX_PT = 8
/** Where room for the clock ends in it and room for the file begins, a share of its width. */
const SPLIT = 0.58
/** Lights side by side; more go into a table of their own. */
const MOST_LIGHTS = 3

/**
 * The table to fill in by hand: a row a mark and one for walking; a column a light, in which each still has its number, a tick box, and room for what the
 * recorder's clock said and the still's own number; room for remarks.
 */
export function drawPlanFillTable(
  pen: Pen,
  walk: Walk,
  plan: WalkPlan,
  stills: readonly PlannedStill[],
  figures: Figures,
): void {
  const lights = [...groupBy(stills, ({ light }) => light).values()]
  for (let first = 0; first < lights.length; first += MOST_LIGHTS) {
    drawOne(pen, walk, plan, figures, lights.slice(first, first + MOST_LIGHTS))
  }
}

function drawHead(
  pen: Pen,
  figures: Figures,
  hasDensity: boolean,
  lights: readonly (readonly PlannedStill[])[],
  edges: readonly number[],
): void {
  const { doc, frame } = pen
  const y = pen.y + 8
  drawLine(doc, 'Mark', frame.left, y, TINY_GREY)
  if (hasDensity) drawLine(doc, `${figures.densityUnit} expected`, edges[0]! - 5, y, TINY_GREY, 'right')
  lights.forEach(([still], index) => {
    const roomPt = SPLIT * (edges[index + 1]! - edges[index]!)
    const [text = ''] = wrapText(doc, `${still!.light}: clock`, roomPt - 8, TINY_GREY, 1)
    drawLine(doc, text, edges[index]! + 4, y, TINY_GREY)
    drawLine(doc, 'file', edges[index]! + roomPt + 4, y, TINY_GREY)
  })
  drawLine(doc, 'Seen by eye, remarks', edges.at(-1)! + 4, y, TINY_GREY)
}

/** `lights`: for each the stills to take, a row each. */
function drawOne(
  pen: Pen,
  walk: Walk,
  plan: WalkPlan,
  figures: Figures,
  lights: readonly (readonly PlannedStill[])[],
): void {
  const hasDensity = plan.marks.some(({ densityPxPerM }) => densityPxPerM !== null)
  const { left, right } = pen.frame
  const lightsFrom = left + MARK_PT + (hasDensity ? DENSITY_PT : 0)
  const lightPt = (right - REMARKS_PT - lightsFrom) / lights.length
  const edges = [...lights.map((_, index) => lightsFrom + index * lightPt), right - REMARKS_PT]
  const rows = plan.marks.length + 1
  const rowPt = Math.max(LEAST_ROW_PT, Math.min(ROW_PT, (pen.frame.bottom - pen.y - 20) / rows))
  if (pen.frame.bottom - pen.y < 20 + 4 * rowPt) turnPage(pen)

  const head = (): void => drawHead(pen, figures, hasDensity, lights, edges)
  within(pen, 'Table', () => {
    within(pen, 'TR', () => tagged(pen, 'TH', head, { scope: 'Column' }))
    pen.y += 12
    drawRule(pen, pen.y, LINE_PT.rule, left, right, INK)
    lights[0]!.forEach((_, index) => row(lights.map((stills) => stills[index]!)))
  })
  pen.y += 8

  function row(stills: readonly PlannedStill[]): void {
    const { mark } = stills[0]!
    if (pen.y + rowPt > pen.frame.bottom) {
      turnPage(pen)
      artifact(pen, head, 'Pagination')
      pen.y += 12
      drawRule(pen, pen.y, LINE_PT.rule, left, right, INK)
    }
    const label = mark === null ? 'walking' : figures.distance(mark.distanceM)
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
      stills.forEach(({ number, promises }, index) => {
        const style = promises.length > 0 ? OUTSIDE_STRONG : OUTSIDE_GREY
        tagged(pen, 'TD', () =>
          drawLine(pen.doc, String(number), edges[index]! + 8 + BOX_PT, pen.y + 11, style),
        )
      })
      // Empty, to be written into; it stands in the structure so that every row has its columns.
      tagged(pen, 'TD', () => undefined)
    })
    artifact(pen, () => {
      for (const x of edges) {
        strokePath(pen.doc, LINE_PT.hair, GREY, [x, pen.y], [x, pen.y + rowPt])
      }
      for (const x of edges.slice(0, -1)) {
        pen.doc
          .lineWidth(LINE_PT.hair)
          .rect(x + 4, pen.y + 4, BOX_PT, BOX_PT)
          .stroke(INK)
        const split = x + SPLIT * lightPt
        strokePath(pen.doc, LINE_PT.hair, GREY, [split, pen.y + 4], [split, pen.y + rowPt])
      }
    })
    pen.y += rowPt
    drawRule(pen, pen.y)
  }
}
