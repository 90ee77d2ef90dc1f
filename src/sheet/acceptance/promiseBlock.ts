import { promisedName } from '../../grade/gradings/grading.js'
import type { MaybeBound } from '../../math/interval.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import type { SheetContext } from '../input/sheetContext.js'
import { drawBlock, drawSubhead } from '../document/prose.js'
import { sheetSays } from '../sentences.js'
import { asSentence } from '../../sentences.js'
import { drawReadPromises } from './readPromises.js'
import { columnsWithDetail } from '../input/detailColumns.js'
import { drawRule } from '../document/drawRule.js'
import { standingOf } from './verdictSentences.js'
import { drawWhisker } from '../tables/limitWhisker.js'
import { ensureRoom, type Pen } from '../document/pen.js'
import { artifact, tagged, within } from '../document/tagged.js'
import { baselineBelow, drawLine, drawLines, lineHeightPt, wrapText } from '../document/text.js'
import {
  BODY_STRONG,
  GREY,
  INK,
  LINE_PT,
  SMALL,
  SMALL_GREY,
  SMALL_STRONG,
  TINY_GREY,
} from '../document/typography.js'
import { drawVerdictFrame, VERDICT_FRAME_PT } from '../tables/verdictFrame.js'
import { strokePath } from '../document/strokePath.js'

type Promised = WalkResults['promises'][number]

/** Where the columns stand, points from the left edge of the type area; `detail`, `pixels` are right edges. */
interface Grid {
  readonly claim: number
  readonly strip: number
  readonly stripWidth: number
  readonly detail: number
  readonly pixels: number
  readonly verdict: number
}

function grid(pen: Pen): Grid {
  const { left, right } = pen.frame
  const verdict = right - VERDICT_FRAME_PT.width
  const pixels = verdict - 16
  const detail = pixels - 76
  const stripWidth = 70
  return { claim: left + 15, strip: detail - 74 - stripWidth, stripWidth, detail, pixels, verdict }
}

/** Every promise with its verdict, its measured values against the limit and the reason, a row each. */
export function drawPromiseBlock(pen: Pen, context: SheetContext): void {
  const numbered = context.results.promises.map((promise, index) => ({ promise, number: index + 1 }))
  const ofKind = (asked: Promised['kind']) => numbered.filter(({ promise: { kind } }) => kind === asked)
  const read = ofKind('read').map((one) => ({ ...one, claim: promiseClaim(one.promise, context) }))
  drawReadPromises(pen, context, read)
  drawPromises(pen, context, ofKind('least'))
  const most = ofKind('most')
  if (most.length === 0) return
  drawSubhead(pen, 'What it must not see', 60)
  drawBlock(pen, 'P', asSentence(sheetSays['judged-anywhere']().message), SMALL, { gapPt: 3 })
  drawPromises(pen, context, most)
}

function drawPromises(
  pen: Pen,
  context: SheetContext,
  promises: readonly { readonly promise: Promised; readonly number: number }[],
): void {
  if (promises.length === 0) return
  const columns = grid(pen)
  within(pen, 'Table', () => {
    drawHead(pen, columns, context, true)
    for (const { promise, number } of promises) {
      if (ensureRoom(pen, rowHeightPt(pen, promise, columns, context))) drawHead(pen, columns, context, false)
      drawRow(pen, promise, number, columns, context)
    }
  })
  pen.y += 2
}

function drawHead(pen: Pen, columns: Grid, { figures, results }: SheetContext, isFirst: boolean): void {
  const y = baselineBelow(pen.y, TINY_GREY)
  const cells: (readonly [string, number, 'left' | 'right' | 'centre'])[] = [
    ['Promised', columns.claim, 'left'],
    ['half', columns.strip, 'left'],
    ['limit', columns.strip + columns.stripWidth / 2, 'centre'],
    ['twice', columns.strip + columns.stripWidth, 'right'],
    ...(columnsWithDetail(results)
      ? ([[`${figures.densityUnit} with detail`, columns.detail, 'right']] as const)
      : []),
    [`${figures.densityUnit} by pixels`, columns.pixels, 'right'],
    ['Verdict', columns.verdict, 'left'],
  ]
  const draw = ([text, x, align]: (typeof cells)[number]): void =>
    drawLine(pen.doc, text, x, y, TINY_GREY, align)
  if (isFirst) {
    within(pen, 'TR', () => {
      for (const cell of cells) tagged(pen, 'TH', () => draw(cell), { scope: 'Column' })
    })
  } else {
    artifact(pen, () => cells.forEach(draw), 'Pagination')
  }
  pen.y += lineHeightPt(TINY_GREY) + 2
  drawRule(pen, pen.y)
  pen.y += 4
}

/** Where the reason begins below the row's top: under what was asked, the grade it was translated to, and its limit. */
function reasonPt(pen: Pen, promise: Promised, columns: Grid, context: SheetContext): number {
  return (1 + claimLines(pen, promise, columns, context).length) * lineHeightPt(SMALL) + 4
}

/** What the promise comes to, in a line, or in two where its limit is in feet too. */
function claimLines(pen: Pen, promise: Promised, columns: Grid, context: SheetContext): string[] {
  const { figures } = context
  const [, translated] = promiseClaim(promise, context)
  const held = [
    ...(translated === undefined ? [] : [translated]),
    promise.light,
    promise.reference ?? 'every reference',
  ]
  const limit = figures.isMetric
    ? ` · limit ${figures.bareLimit(promise.limit)}`
    : `\nlimit ${figures.limit(promise.limit)}`
  return `${held.join(', ')}${limit}`
    .split('\n')
    .flatMap((line) => wrapText(pen.doc, line, claimWidth(columns), SMALL_GREY, 1))
}

function reasonLines(pen: Pen, promise: Promised, columns: Grid): string[] {
  const what = promise.what === null ? '' : `${promise.what}: `
  return wrapText(pen.doc, asSentence(`${what}${promise.why}`), columns.pixels - columns.claim, SMALL, 6)
}

function claimWidth(columns: Grid): number {
  return columns.strip - columns.claim - 12
}

function rowHeightPt(pen: Pen, promise: Promised, columns: Grid, context: SheetContext): number {
  return (
    reasonPt(pen, promise, columns, context) +
    reasonLines(pen, promise, columns).length * lineHeightPt(SMALL) +
    9
  )
}

function drawRow(pen: Pen, promise: Promised, number: number, columns: Grid, context: SheetContext): void {
  const { doc } = pen
  const top = pen.y
  const first = baselineBelow(top, BODY_STRONG)
  const second = first + lineHeightPt(SMALL)
  drawStrip(pen, promise, densitiesOf(promise), columns, top)
  const [asked] = promiseClaim(promise, context)
  const claim = wrapText(doc, asked, claimWidth(columns), BODY_STRONG, 1)
  const where = claimLines(pen, promise, columns, context)
  const reason = reasonLines(pen, promise, columns)
  within(pen, 'TR', () => {
    within(
      pen,
      'TH',
      () => {
        const part = (draw: () => void): void => tagged(pen, 'P', draw)
        part(() => drawLine(doc, String(number), columns.claim - 15, first, SMALL_GREY))
        part(() => drawLine(doc, claim[0] ?? '', columns.claim, first, BODY_STRONG))
        part(() =>
          where.forEach((line, index) =>
            drawLine(doc, line, columns.claim, second + index * lineHeightPt(SMALL), SMALL_GREY),
          ),
        )
        part(
          () =>
            void drawLines(doc, reason, columns.claim, top + reasonPt(pen, promise, columns, context), SMALL),
        )
      },
      { scope: 'Row' },
    )
    for (const { basis, texts } of promiseFigures(promise, context)) {
      const x = columns[basis]
      tagged(pen, 'TD', () => {
        const [value, interval] = texts
        if (interval === undefined) return drawLine(doc, value, x, first, SMALL_GREY, 'right')
        drawLine(doc, value, x, first, basis === promise.basis ? SMALL_STRONG : SMALL, 'right')
        drawLine(doc, interval, x, second, SMALL_GREY, 'right')
      })
    }
    tagged(pen, 'TD', () => {
      drawVerdictFrame(doc, promise.verdict, columns.verdict, top)
      const middle = columns.verdict + VERDICT_FRAME_PT.width / 2
      beneathVerdict(promise, context).forEach((line, index) =>
        drawLine(doc, line, middle, top + 24 + index * 7.4, TINY_GREY, 'centre'),
      )
    })
  })
  pen.y = top + rowHeightPt(pen, promise, columns, context)
  drawRule(pen, pen.y - 5)
}

/** What was promised: the grade, "Recognise at 16 m"; where the buyer's own words are known they come first, and the grade they were translated to after them. */
export function promiseClaim(
  promise: Promised,
  { figures, results }: SheetContext,
): readonly [string] | readonly [string, string] {
  const grade = `${promisedName(promise, results.grading)} at ${figures.distance(promise.distance)}`
  return promise.task === null ? [grade] : [asSentence(promise.task).replace(/\.$/, ''), grade]
}

/** A promise's figures as they are printed, column by column: a value and its interval, or a dash. */
export function promiseFigures(
  promise: Promised,
  context: SheetContext,
): { readonly basis: 'detail' | 'pixels'; readonly texts: readonly [string, string?] }[] {
  const { figures, results } = context
  const densities = densitiesOf(promise)
  const told = columnsWithDetail(results) ? (['detail', 'pixels'] as const) : (['pixels'] as const)
  return told.map((basis) => {
    const density = densities[basis]
    if (density === null) return { basis, texts: ['–'] }
    return { basis, texts: [figures.density(density).value, figures.interval(density)] }
  })
}

const BY_PIXELS = {
  met: 'by pixels: met',
  'not met': 'by pixels: not met',
  'not shown': 'by pixels: not shown',
  unusable: 'by pixels: unusable',
} as const

/** "Not shown" is the word of the results, "undecided" that of the sentence above the list: the frame and what stands beneath it say both. */
function beneathVerdict(promise: Promised, { results }: SheetContext): string[] {
  return [
    ...(promise.verdict === 'not shown' ? ['undecided'] : []),
    ...(promise.basis === 'detail' ? [BY_PIXELS[standingOf(promise, 'pixels', results)]] : []),
  ]
}

function drawStrip(pen: Pen, promise: Promised, densities: Densities, columns: Grid, top: number): void {
  const { doc } = pen
  const middle = columns.strip + columns.stripWidth / 2
  artifact(pen, () => {
    strokePath(
      doc,
      LINE_PT.hair,
      GREY,
      [columns.strip, top + 11],
      [columns.strip + columns.stripWidth, top + 11],
    )
    strokePath(doc, LINE_PT.frame, INK, [middle, top + 1], [middle, top + 21])
    if (densities.detail !== null)
      drawWhisker(doc, densities.detail, promise.limit, 'detail', columns.strip, top + 6, columns.stripWidth)
    if (densities.pixels !== null)
      drawWhisker(doc, densities.pixels, promise.limit, 'pixels', columns.strip, top + 16, columns.stripWidth)
  })
}

type Densities = Readonly<Record<'pixels' | 'detail', MaybeBound | null>>

/** The promise's value on either basis, both by the same marks. */
function densitiesOf({ value, low, high, basis, onOtherBasis }: Promised): Densities {
  const own = value === null || high === null ? null : { value, low, high }
  return basis === 'detail' ? { detail: own, pixels: onOtherBasis } : { detail: onOtherBasis, pixels: own }
}
