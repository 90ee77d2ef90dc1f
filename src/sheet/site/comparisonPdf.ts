import type { ComparisonInput } from '../input/sheetInput.js'
import { sceneLine } from '../../grade/compare/sceneChange.js'
import { START_PRIOR_M } from '../../grade/range/fitConstant.js'
import { type Figures, figuresOf } from '../../units/figures.js'
import { countStills, type WalkResults } from '../../walk/schemas/resultsSchema.js'
import { drawBlock, drawList, drawParagraph, drawSectionHead, drawSubhead } from '../document/prose.js'
import { asSentence } from '../../sentences.js'
import { drawChangeStrips } from './changeStrips.js'
import { beginPages, type Pen } from '../document/pen.js'
import { collectBytes, openDocument, walkDate } from '../document/openDocument.js'
import { comparisonSentence } from './comparisonSentence.js'
import { drawComparedPictures } from './drawComparedPictures.js'
import { drawComparisonTables } from './comparisonTables.js'
import { drawRule } from '../document/drawRule.js'
import { pageFrame } from '../document/pageFrame.js'
import { drawRunningHeads } from '../document/runningHeads.js'
import { within } from '../document/tagged.js'
import { BODY, INK, LEAD, LEAD_STRONG, LINE_PT, SMALL, TITLE } from '../document/typography.js'

/** What a reader must not take a comparison for. */
const limitsText = ({ distance }: Figures): string[] => [
  'Two walks show two days. What changed in between, and when, they do not show.',
  'The same reference is taken to be the same object, and the same camera to have the same tone curve: what both err by alike cancels.',
  `Distances (each started within ${distance(START_PRIOR_M)} of the lens) and clicks are treated as made again for each walk.`,
  'Intervals are 95 % of that figure alone. A change is called significant by all marks and lights together, so that of 100 pairs in which nothing changed 96 show none.',
  'A grade describes picture detail, never identity. This is not a certificate of compliance and not a forensic report.',
]

const PICTURES: readonly string[] = [
  'Contains pictures of people; what was measured on is blurred. Share with care.',
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
    const line = sceneLine(comparison.scene)
    if (line !== null && comparison.marks.length > 0) drawParagraph(pen, asSentence(line), SMALL)
    drawComparedPictures(pen, input)
    drawChangeStrips(pen, comparison, figuresOf(after))
  })
  within(pen, 'Sect', () => drawComparisonTables(pen, input))
  within(pen, 'Sect', () => {
    drawSectionHead(pen, 'What this does not say', 60)
    drawList(pen, [...limitsText(figuresOf(after)), ...(input.pictures === null ? [] : PICTURES)], SMALL)
  })
  root.end()
  drawRunningHeads(doc, frame, {
    facts: {
      site: walk.site,
      camera: walk.camera.name,
      date: `${walk.date ?? 'no date'} against ${before.walk.date ?? 'no date'}`,
    },
    simulated,
    kind: 'Two walks compared',
    initials: false,
  })
  doc.end()
  return bytes
}

function drawHead(pen: Pen, { before, after, comparison }: ComparisonInput): void {
  const { frame } = pen
  const { walk } = after
  const id = walk.camera.id === null ? '' : `, ${walk.camera.id}`
  pen.y -= 3
  drawBlock(pen, 'H1', walk.site, TITLE, { mostLines: 4 })
  drawBlock(pen, 'P', `${walk.camera.name}${id}: two walks compared`, LEAD, { mostLines: 4, gapPt: 6 })
  drawRule(pen, pen.y, LINE_PT.rule, frame.left, frame.right, INK)
  pen.y += 6
  const told = ({ walk: one, stills, marks }: WalkResults): string =>
    `${one.date ?? 'no date'}: ${marks.length} marks on ${countStills(stills)} stills${one.people.walkedBy === null ? '' : `, walked by ${one.people.walkedBy}`}`
  drawParagraph(pen, `Before, ${told(before)}. After, ${told(after)}.`, SMALL)
  drawBlock(pen, 'P', comparisonSentence(comparison), LEAD_STRONG, { mostLines: 4, gapPt: 6 })
  if (comparison.findings.length > 0) drawSubhead(pen, 'What was found', 20)
}
