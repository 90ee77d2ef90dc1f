import { figuresFor } from '../../units/figures.js'
import { limitsOf } from '../../grade/gradings/grading.js'
import { stillsToTake } from '../../walk/plan/stillsToTake.js'
import type { WalkPlan } from '../../walk/plan/planWalk.js'
import { tapeWords } from '../../walk/plan/planWords.js'
import { asSentence } from '../../sentences.js'
import type { Walk } from '../../walk/read/walk.js'
import { beginPages, turnPage } from '../document/pen.js'
import { collectBytes, openDocument, walkDate } from '../document/openDocument.js'
import { pageFrame } from '../document/pageFrame.js'
import { drawPlanFillTable } from './planFillTable.js'
import { drawPlanHead, OUTSIDE, OUTSIDE_NOTE } from './planHead.js'
import { IN_EACH_LIGHT, WALK_CAUTIONS, whatToBring } from './planLists.js'
import { drawPlanPromises } from './planPromises.js'
import { drawPlanRuler } from './planRuler.js'
import { drawPlanSideView } from './planSideView.js'
import { drawList, drawParagraph, drawSectionHead, drawSubhead } from '../document/prose.js'
import { drawRunningHeads } from '../document/runningHeads.js'
import type { PaperName } from '../input/sheetInput.js'
import { within } from '../document/tagged.js'

/**
 * The walk plan to take outside as the bytes of one PDF, tagged like the sheet, fonts embedded: first what to expect and what to bring, then what to do
 * in each light with a table to fill in by hand. The same plan gives the same bytes; no clock is read.
 */
export async function planPdf(walk: Walk, plan: WalkPlan, paper: PaperName): Promise<Uint8Array> {
  const figures = figuresFor(walk.units, limitsOf(walk.grading))
  const frame = pageFrame(paper)
  const simulated = walk.simulated ? ' (simulated)' : ''
  const doc = openDocument(frame, {
    title: `${walk.site}, ${walk.camera.name}: walk plan${simulated}`,
    subject: 'What to measure, bring and do, and what to expect by the data sheet',
    author: walk.issuer.name ?? walk.people.walkedBy,
    date: walkDate(walk.date),
  })
  const bytes = collectBytes(doc)
  const { root, pen } = beginPages(doc, frame)
  within(pen, 'Sect', () => {
    drawPlanHead(pen, walk, plan)
    drawSubhead(pen, tapeHead(walk, plan), 60)
    const reads = tapeWords(walk)
    if (reads !== null) drawParagraph(pen, asSentence(reads), OUTSIDE_NOTE)
    drawPlanRuler(pen, plan, figures)
    drawPlanSideView(pen, walk, plan, figures)
    drawSubhead(pen, 'Bring', 40)
    drawList(pen, whatToBring(walk, plan), OUTSIDE)
    drawSubhead(pen, 'Take care', 40)
    drawList(pen, WALK_CAUTIONS, OUTSIDE)
  })
  // The second page is the one in hand at the marks: it begins afresh unless the first has run on to it.
  if (doc.bufferedPageRange().count === 1) turnPage(pen)
  within(pen, 'Sect', () => {
    drawSectionHead(pen, 'In each light', 60)
    drawList(pen, IN_EACH_LIGHT, OUTSIDE)
    const stills = stillsToTake(walk, plan)
    drawPlanPromises(pen, walk, plan, stills, figures)
    drawSubhead(pen, 'Take the stills in the order of their numbers (those of a promise bold)', 80)
    drawParagraph(
      pen,
      [
        'Date ____________',
        'Walked by __________________',
        'At the recorder __________________',
        'Weather ____________',
      ].join('\u00a0\u00a0\u00a0 '),
      OUTSIDE_NOTE,
    )
    drawParagraph(
      pen,
      ['Recorder’s clock at the start ____________', 'Your watch then ____________'].join(
        '\u00a0\u00a0\u00a0 ',
      ),
      OUTSIDE_NOTE,
    )
    pen.y += 8
    drawPlanFillTable(pen, walk, plan, stills, figures)
  })
  root.end()
  drawRunningHeads(doc, frame, {
    facts: { site: walk.site, camera: walk.camera.name, date: walk.date },
    simulated: walk.simulated,
    kind: 'Walk plan',
    initials: false,
  })
  doc.end()
  return bytes
}

function tapeHead({ distance, promises }: Walk, { ranges }: WalkPlan): string {
  const from = distance.from === 'camera' ? 'from the camera' : 'along the ground from below the camera'
  const bold = promises.length > 0 ? ' (promised distances bold)' : ''
  const ends = ranges.some(({ distanceM }) => distanceM !== null)
    ? ', and how far each grade should hold'
    : ''
  return `Measure, ${from}${bold}${ends}`
}
