import { drawBlock, drawList, drawSectionHead, drawSubhead } from '../document/prose.js'
import { asSentence } from '../../sentences.js'
import { attachedFiles, attachFiles } from './attachFiles.js'
import { drawCautionSection, drawFirstPageCautions, firstPageCautionsPt } from '../document/cautions.js'
import { beginPages, ensureRoom, type Pen, roomLeftPt, turnPage } from '../document/pen.js'
import { collectBytes, openDocument, walkDate } from '../document/openDocument.js'
import { drawCurvesPlot } from '../plots/curvesPlot.js'
import { drawDensityPlot, leastPlotPt } from '../plots/densityPlot.js'
import { drawEyeTable } from './eyeTable.js'
import { judgesDetail } from '../input/detailColumns.js'
import { drawFilesTable } from './filesTable.js'
import { drawGroundTable } from './groundTable.js'
import { drawLensTable } from './lensTable.js'
import { drawMarksTable } from './marksTable.js'
import { maskCrops } from '../pictures/maskReference.js'
import { flatLogo } from './flatLogo.js'
import { drawMethodSection } from './methodSection.js'
import { pageFrame } from '../document/pageFrame.js'
import { cropPlan } from '../pictures/cropPlan.js'
import { drawPictureSection } from '../pictures/pictureTable.js'
import { drawPromiseBlock } from './promiseBlock.js'
import { drawRangesTable } from './rangesTable.js'
import { drawReadingAnnex } from './readingAnnex.js'
import { drawRunningHeads } from '../document/runningHeads.js'
import { SEAL_XML, sealed } from '../input/seal.js'
import { type SheetContext, sheetContext } from '../input/sheetContext.js'
import type { SheetInput } from '../input/sheetInput.js'
import { drawSignatures, SIGNATURES_PT } from '../document/signatures.js'
import { within } from '../document/tagged.js'
import { sheetSays } from '../sentences.js'
import { editionText } from './editionText.js'
import { drawTitleBlock } from './titleBlock.js'
import { BODY, LEAD_STRONG, SMALL, SMALL_GREY } from '../document/typography.js'
import { verdictSentences } from './verdictSentences.js'

const TALLEST_PLOT_PT = 258

/**
 * The acceptance sheet as the bytes of one PDF: declares PDF/A-3a, tagged, fonts embedded, the walk's files attached, its own SHA-256 in its XMP.
 * The same input gives the same bytes on every run and in every time zone; no clock is read.
 * @throws `ProofwalkError` `logo-unreadable` where the logo is no picture
 */
export async function writeSheet(input: SheetInput): Promise<Uint8Array> {
  const { results } = input
  const context = {
    ...sheetContext(results, input.simulated),
    masked: maskedHow(input),
    attached: new Map(attachedFiles(input).map(([name, , , description]) => [name, description])),
  }
  const { facts } = context
  const crops = context.masked !== null ? await maskCrops(input.crops, results, input) : input.crops
  const logo = input.logo === undefined ? undefined : await flatLogo(input.logo)
  const frame = pageFrame(input.paper)
  const date = walkDate(facts.date)
  const doc = openDocument(frame, {
    title: `${facts.site}, ${facts.camera}: acceptance sheet${context.simulated ? ' (simulated)' : ''}`,
    subject: verdictSentences(results).join(' '),
    author: facts.issuer ?? facts.measuredBy,
    date,
    keywords: `attached ${input.attach ?? 'all'}`,
  })
  const bytes = collectBytes(doc)
  addSeal(doc)
  attachFiles(doc, input, date)
  const { root, pen } = beginPages(doc, frame)
  let plotWaits = false
  within(pen, 'Sect', () => {
    plotWaits = drawFirstPage(pen, context, logo)
  })
  // The answer is complete in itself and can be handed over alone; so is every annex.
  const annex = (draw: () => void): void => {
    turnPage(pen)
    within(pen, 'Sect', draw)
  }
  if (cropPlan(results).length > 0) annex(() => drawPictureSection(pen, context, crops))
  if (results.marks.length > 0) annex(() => drawNumbers(pen, context, plotWaits))
  if (results.readings.length > 0) annex(() => drawReadingAnnex(pen, context, input.read ?? []))
  annex(() => {
    if (results.marks.length === 0) drawNumbers(pen, context, false)
    drawMethodSection(pen, context)
    drawFilesTable(pen, context)
  })
  within(pen, 'Sect', () => drawCautionSection(pen, 0, context.masked))
  root.end()
  drawRunningHeads(doc, frame, context)
  doc.end()
  return sealed(await bytes)
}

/** How the pictures of a sheet are masked, as it says itself. */
function maskedHow({ maskPlates, maskPeople = false }: SheetInput): string | null {
  if (!maskPlates && !maskPeople) return null
  return `${sheetSays[maskPeople ? (maskPlates ? 'masked-all' : 'masked-people') : 'masked-plates']().message}.`
}

/** Puts the field for the file's own hash into its metadata: pdfkit's types leave the way out. */
function addSeal(doc: PDFKit.PDFDocument): void {
  ;(doc as unknown as { appendXML(xml: string): void }).appendXML(SEAL_XML)
}

/**
 * Title, sentence, promises and the plot; the cautions stand at the page's foot whatever the promises leave room for. Says whether the plot waits
 * for the numbers: it never takes the signatures' room.
 */
function drawFirstPage(pen: Pen, context: SheetContext, logo: Uint8Array | undefined): boolean {
  const cautionsPt = firstPageCautionsPt(pen, context.masked)
  drawTitleBlock(pen, context, logo)
  const whole = pen.frame
  const first: Pen = { ...pen, frame: { ...whole, bottom: whole.bottom - cautionsPt } }
  first.y += 8
  const [judged = '', ...others] = verdictSentences(context.results)
  drawBlock(first, 'P', judged, LEAD_STRONG, { gapPt: 1 })
  for (const other of others) drawBlock(first, 'P', other, BODY, { gapPt: 1 })
  if (context.results.promises.some(({ kind }) => kind !== 'read')) {
    const rules = sheetSays[judgesDetail(context.results) ? 'two-rules' : 'one-rule']()
    drawBlock(first, 'P', asSentence(rules.message), SMALL_GREY, { gapPt: 1 })
  }
  first.y += 6
  drawPromiseBlock(first, context)
  const edition = editionText(context.results)
  if (edition !== null) drawBlock(first, 'P', edition, SMALL_GREY, { gapPt: 2 })
  const plots = context.results.marks.length > 0
  const fits = roomLeftPt(first) >= leastPlotPt(context) + SIGNATURES_PT + 8
  if (plots && fits) {
    first.y += 8
    drawDensityPlot(first, context, Math.min(roomLeftPt(first) - SIGNATURES_PT - 6, TALLEST_PLOT_PT))
  }
  ensureRoom(first, SIGNATURES_PT)
  first.y = first.frame.bottom - SIGNATURES_PT
  drawSignatures(first, context)
  pen.y = first.y
  // Read last, whatever page the promises have run on to.
  const last = pen.doc.bufferedPageRange().count - 1
  pen.doc.switchToPage(0)
  drawFirstPageCautions(pen, context.masked)
  pen.doc.switchToPage(last)
  return plots && !fits
}

/** What whoever walks can do about the promises that are not met or not shown. */
function drawMends(pen: Pen, { results }: SheetContext): void {
  const mends = results.promises.flatMap(({ mend }, index) =>
    mend === null ? [] : [`Promise ${index + 1}: ${asSentence(mend)}`],
  )
  if (mends.length === 0) return
  drawSubhead(pen, 'What would settle the promises', 20)
  drawList(pen, mends, SMALL)
}

/** Every mark in numbers, how far each grade holds, what was seen by eye, and the lens. */
function drawNumbers(pen: Pen, context: SheetContext, plotToo: boolean): void {
  const { results } = context
  const measured = results.marks.length > 0
  drawSectionHead(pen, measured ? 'Every mark in numbers' : 'Promised and seen', 60)
  if (plotToo) {
    drawDensityPlot(pen, context, TALLEST_PLOT_PT)
    pen.y += 10
  }
  if (measured) drawMarksTable(pen, context)
  if (results.ranges.length > 0) {
    drawSubhead(pen, 'How far each grade holds', 60)
    drawRangesTable(pen, context)
  }
  drawMends(pen, context)
  drawGroundTable(pen, context)
  drawEyeTable(pen, context)
  drawLensTable(pen, context)
  drawCurvesPlot(pen, context)
  if (results.findings.length > 0) {
    drawSubhead(pen, 'Found on the walk as a whole', 30)
    drawList(
      pen,
      results.findings.map(({ message }) => asSentence(message)),
      SMALL,
    )
  }
}
