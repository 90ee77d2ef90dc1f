import { GREY, SIZE_PT, type TextStyle, INK, LEAD, LINE_PT, TITLE } from '../document/typography.js'
import { lensWords, noLensWords } from '../../walk/plan/planWords.js'
import type { WalkPlan } from '../../walk/plan/planWalk.js'
import { sheetSays } from '../sentences.js'
import type { Walk } from '../../walk/read/walk.js'
import { drawBlock, drawList, drawParagraph } from '../document/prose.js'
import { asSentence } from '../../sentences.js'
import { drawRule } from '../document/drawRule.js'
import type { Pen } from '../document/pen.js'

/** Site, camera, how its data sheet was read, and where that contradicts itself. */
export function drawPlanHead(pen: Pen, walk: Walk, plan: WalkPlan): void {
  const { frame } = pen
  const { name, id } = walk.camera
  pen.y -= 3
  drawBlock(pen, 'H1', walk.site, TITLE, { mostLines: 2 })
  const camera = `${name}${id === null ? '' : `, ${id}`}: walk plan`
  drawBlock(pen, 'P', camera, LEAD, { mostLines: 2, gapPt: 5 })
  drawRule(pen, pen.y, LINE_PT.rule, frame.left, frame.right, INK)
  pen.y += 6
  const lens = lensWords(plan)
  drawParagraph(
    pen,
    asSentence(
      (lens === null ? sheetSays['plan-no-lens'](noLensWords(plan)) : sheetSays['plan-lens'](lens)).message,
    ),
    OUTSIDE_NOTE,
  )
  if (plan.contradictions.length > 0) {
    drawParagraph(pen, 'The data sheet contradicts itself:', OUTSIDE_STRONG)
    drawList(
      pen,
      plan.contradictions.map(({ message }) => asSentence(message)),
      OUTSIDE_NOTE,
    )
  }
  const readings = plan.readings.map(({ message }) => asSentence(message))
  if (readings.length > 0) drawList(pen, readings, OUTSIDE_NOTE)
  if (plan.missing.length > 0) {
    drawParagraph(pen, 'Missing in walk.yaml:', OUTSIDE)
    drawList(pen, plan.missing.map(asSentence), OUTSIDE_NOTE)
  }
}

/** A plan is read at arm's length, outside: its text is set larger than the sheet's. */
export const OUTSIDE: TextStyle = { sizePt: 10 }
export const OUTSIDE_STRONG: TextStyle = { sizePt: 10, face: 'semibold' }
export const OUTSIDE_NOTE: TextStyle = { sizePt: SIZE_PT.body }
export const OUTSIDE_GREY: TextStyle = { sizePt: SIZE_PT.body, colour: GREY }
