import type { ComparisonInput } from '../input/sheetInput.js'
import { measuresFor } from '../../units/measures.js'
import { countStills, type WalkResults } from '../../walk/schemas/resultsSchema.js'
import { asSentence, drawList, drawParagraph, drawSectionHead, drawSubhead } from '../document/prose.js'
import { drawChangeStrips } from './changeStrips.js'
import { beginPages, type Pen } from '../document/pen.js'
import { collectBytes, openDocument, walkDate } from '../document/openDocument.js'
import { comparisonSentence } from './comparisonSentence.js'
import { drawComparisonTables } from './comparisonTables.js'
import { drawRule } from '../document/drawRule.js'
import { pageFrame } from '../document/pageFrame.js'
import { drawRunningHeads } from '../document/runningHeads.js'
import { tagged, within } from '../document/tagged.js'
import { drawLines, lineHeightPt, wrapText } from '../document/text.js'
import { BODY, INK, LINE_PT, SIZE_PT, SMALL, type TextStyle } from '../document/typography.js'

const TITLE: TextStyle = { sizePt: SIZE_PT.title, face: 'semibold' }
const LEAD: TextStyle = { sizePt: SIZE_PT.lead }
const SENTENCE: TextStyle = { sizePt: SIZE_PT.lead, face: 'semibold' }

/** What a reader must not take a comparison for. */
const LIMITS: readonly string[] = [
  'Two walks show two days. What changed in between, and when, they do not show.',
  'The same reference is taken to be the same object, and the same camera to have the same tone curve: what both err by alike cancels.',
  'The tapes, and the hand that clicked, are taken as drawn anew with each walk.',
  'Intervals are 95 % of that figure alone. A change is called significant by all marks and lights together, so that of 100 pairs in which nothing changed 95 show none.',
  'A grade describes picture detail, never identity. This is no certificate of compliance and no forensic report.',
]

/** The comparison of two walks as the bytes of one PDF, set and tagged like the sheet. The same input gives the same bytes; no clock is read. */
export async function comparisonPdf(input: ComparisonInput): Promise<Uint8Array> {
  const { before, after, comparison } = input
  const { walk } = after
  const frame = pageFrame(input.paper)
  const simulated = before.walk.simulated || walk.simulated
  const doc = openDocument(frame, {
    title: `${walk.site}, ${walk.camera.name}: two walks compared${simulated ? ' (simulated)' : ''}`,
    subject: comparisonSentence(comparison),
    author: walk.issuer.name ?? walk.people.measuredBy,
    date: walkDate(walk.date),
  })
  const bytes = collectBytes(doc)
  const { root, pen } = beginPages(doc, frame)
  within(pen, 'Sect', () => {
    drawHead(pen, input)
    drawList(
      pen,
      comparison.findings.map(({ message }) => asSentence(message)),
      BODY,
    )
    drawChangeStrips(pen, comparison, measuresFor(walk.units))
  })
  within(pen, 'Sect', () => drawComparisonTables(pen, input))
  within(pen, 'Sect', () => {
    drawSectionHead(pen, 'What this does not say', 60)
    drawList(pen, LIMITS, SMALL)
  })
  root.end()
  drawRunningHeads(doc, frame, {
    facts: {
      site: walk.site,
      camera: walk.camera.name,
      date: `${walk.date} against ${before.walk.date}`,
    },
    simulated,
    kind: 'Two walks compared',
    initials: false,
  })
  doc.end()
  return bytes
}

function drawHead(pen: Pen, { before, after, comparison }: ComparisonInput): void {
  const { doc, frame } = pen
  const block = (type: 'H1' | 'P', text: string, style: TextStyle, gapPt: number): void => {
    const lines = wrapText(doc, text, frame.right - frame.left, style, 4)
    tagged(pen, type, () => void drawLines(doc, lines, frame.left, pen.y, style))
    pen.y += lines.length * lineHeightPt(style) + gapPt
  }
  const { walk } = after
  const id = walk.camera.id === null ? '' : `, ${walk.camera.id}`
  pen.y -= 3
  block('H1', walk.site, TITLE, 0)
  block('P', `${walk.camera.name}${id}: two walks compared`, LEAD, 6)
  drawRule(pen, pen.y, LINE_PT.rule, frame.left, frame.right, INK)
  pen.y += 6
  const told = ({ walk: one, stills, marks }: WalkResults): string =>
    `${one.date}: ${marks.length} marks on ${countStills(stills)} stills${one.people.walkedBy === null ? '' : `, walked by ${one.people.walkedBy}`}`
  drawParagraph(pen, `Before, ${told(before)}. After, ${told(after)}.`, SMALL)
  block('P', comparisonSentence(comparison), SENTENCE, 6)
  if (comparison.findings.length > 0) drawSubhead(pen, 'What was found', 20)
}
