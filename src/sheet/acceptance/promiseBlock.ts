import { askedDetail, promisedName } from '../../grade/gradings/grading.js'
import type { MaybeBound } from '../../math/interval.js'
import { isSameMark } from '../../walk/read/sameMark.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import type { SheetContext } from '../input/sheetContext.js'
import { drawBlock, drawSubhead } from '../document/prose.js'
import { sheetSays } from '../sentences.js'
import { asSentence } from '../../sentences.js'
import { MOST_ASKED_LINES } from './claimLines.js'
import { drawReadPromises } from './readPromises.js'
import { columnsWithDetail } from '../input/detailColumns.js'
import { drawRule } from '../document/drawRule.js'
import { judgedDensity, showsNothing, standingOf } from './verdictSentences.js'
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
  type TextStyle,
  TINY_GREY,
} from '../document/typography.js'
import { drawVerdictFrame, VERDICT_FRAME_PT } from '../tables/verdictFrame.js'
import { strokePath } from '../document/strokePath.js'

type Promised = WalkResults['promises'][number]

/** Where the columns stand, points from the left edge of the type area; `stroke`, `detail`, `pixels` are right edges. */
interface Grid {
  readonly claim: number
  readonly strip: number
  readonly stripWidth: number
  readonly stroke: number
  readonly detail: number
  readonly pixels: number
  readonly verdict: number
}

function grid(pen: Pen): Grid {
  const { left, right } = pen.frame
  const verdict = right - VERDICT_FRAME_PT.width
  const pixels = verdict - 14
  const detail = pixels - 68
  const stroke = detail - 70
  const stripWidth = 54
  return { claim: left + 15, strip: stroke - 62 - stripWidth, stripWidth, stroke, detail, pixels, verdict }
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
    const isMost = promises[0]!.promise.kind === 'most'
    drawHead(pen, columns, context, isMost, true)
    for (const { promise, number } of promises) {
      if (ensureRoom(pen, rowHeightPt(pen, promise, columns, context)))
        drawHead(pen, columns, context, isMost, false)
      drawRow(pen, promise, number, columns, context)
    }
  })
  pen.y += 2
}

function drawHead(
  pen: Pen,
  columns: Grid,
  { figures, results }: SheetContext,
  isMost: boolean,
  isFirst: boolean,
): void {
  const y = baselineBelow(pen.y, TINY_GREY)
  const [below, above] = isMost ? ['allowed', 'too much'] : ['too little', 'enough']
  const cells: (readonly [string, number, 'left' | 'right' | 'centre'])[] = [
    [isMost ? 'Limit' : 'Promised', columns.claim, 'left'],
    [below, columns.strip, 'left'],
    [above, columns.strip + columns.stripWidth, 'right'],
    ...(hasDetail(isMost, results)
      ? ([
          [`Finest stroke, ${figures.strokeUnit}`, columns.stroke, 'right'],
          [`${figures.densityUnit} with detail`, columns.detail, 'right'],
        ] as const)
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

/** Whether figures with detail stand beside a promise: never beside what must not be seen, which goes by pixels alone. */
function hasDetail(isMost: boolean, results: WalkResults): boolean {
  return !isMost && columnsWithDetail(results)
}

/** Where the reason begins below the row's top: under what was asked, and the grade it was translated to. */
function reasonPt(pen: Pen, promise: Promised, columns: Grid, context: SheetContext): number {
  const [asked, held] = [askedLines, claimLines].map((lines) => lines(pen, promise, columns, context).length)
  return (asked! - 1) * lineHeightPt(BODY_STRONG) + (1 + held!) * lineHeightPt(SMALL) + 4
}

/** The buyer's own words are never cut short. */
function askedLines(pen: Pen, promise: Promised, columns: Grid, context: SheetContext): string[] {
  return wrapText(
    pen.doc,
    promiseClaim(promise, context)[0],
    claimWidth(columns),
    BODY_STRONG,
    MOST_ASKED_LINES,
  )
}

/** What the promise comes to: grade, distance, light, reference. */
function claimLines(pen: Pen, promise: Promised, columns: Grid, context: SheetContext): string[] {
  const [, translated] = promiseClaim(promise, context)
  const held = [
    ...(translated === undefined ? [] : [translated]),
    promise.light,
    promise.reference ?? 'every reference',
  ]
  return wrapText(pen.doc, held.join(', '), claimWidth(columns), SMALL_GREY, 3)
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
  drawStrip(pen, promise, densitiesOf(promise, context.results), columns, top)
  const asked = askedLines(pen, promise, columns, context)
  const held = second + (asked.length - 1) * lineHeightPt(BODY_STRONG)
  const where = claimLines(pen, promise, columns, context)
  const reason = reasonLines(pen, promise, columns)
  within(pen, 'TR', () => {
    within(
      pen,
      'TH',
      () => {
        const part = (draw: () => void): void => tagged(pen, 'P', draw)
        part(() => drawLine(doc, String(number), columns.claim - 15, first, SMALL_GREY))
        part(() => void drawLines(doc, asked, columns.claim, top, BODY_STRONG))
        part(() =>
          where.forEach((line, index) =>
            drawLine(doc, line, columns.claim, held + index * lineHeightPt(SMALL), SMALL_GREY),
          ),
        )
        part(
          () =>
            void drawLines(doc, reason, columns.claim, top + reasonPt(pen, promise, columns, context), SMALL),
        )
      },
      { scope: 'Row' },
    )
    const cell = (x: number, [value, beneath]: Texts, style: TextStyle): void =>
      tagged(pen, 'TD', () => {
        drawLine(doc, value, x, first, beneath === undefined ? SMALL_GREY : style, 'right')
        if (beneath !== undefined) drawLine(doc, beneath, x, second, SMALL_GREY, 'right')
      })
    const limit = context.figures.limit(promise.limit)
    const middle = columns.strip + columns.stripWidth / 2
    tagged(pen, 'TD', () => drawLine(doc, limit, middle, top + 22, TINY_GREY, 'centre'))
    if (hasDetail(promise.kind === 'most', context.results))
      cell(columns.stroke, promiseStroke(promise, context), SMALL)
    for (const { basis, texts } of promiseFigures(promise, context))
      cell(columns[basis], texts, basis === promise.basis ? SMALL_STRONG : SMALL)
    tagged(pen, 'TD', () => {
      drawVerdictFrame(doc, promise.verdict, columns.verdict, top)
      const verdictMiddle = columns.verdict + VERDICT_FRAME_PT.width / 2
      const beneath = beneathVerdict(promise, context)
      if (beneath !== null) drawLine(doc, beneath, verdictMiddle, top + 24, TINY_GREY, 'centre')
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
): { readonly basis: 'detail' | 'pixels'; readonly texts: Texts }[] {
  const { figures, results } = context
  const densities = densitiesOf(promise, results)
  const told = hasDetail(promise.kind === 'most', results)
    ? (['detail', 'pixels'] as const)
    : (['pixels'] as const)
  return told.map((basis) => {
    const density = densities[basis]
    if (density === null) return { basis, texts: ['–'] }
    return { basis, texts: [figures.density(density).value, figures.interval(density)] }
  })
}

/** A figure, and what stands beneath it. */
type Texts = readonly [string, string?]

/** The finest stroke told apart at a promise's mark, and what its grade asks for beneath; a dash where no mark shows one. */
function promiseStroke(promise: Promised, { figures, results }: SheetContext): Texts {
  const { grading, marks } = results
  const mark = marks.find(
    ({ light, reference, distance, leftOut }) =>
      light === promise.light &&
      reference === promise.decidedBy &&
      isSameMark(distance, promise.distance) &&
      !leftOut,
  )
  const resolved = showsNothing(promise, results) ? null : (mark?.resolved ?? null)
  return [
    resolved === null ? '–' : figures.stroke(resolved),
    `${figures.stroke(askedDetail(promise, grading))} asked`,
  ]
}

const BY_PIXELS = {
  met: 'by pixels: met',
  'not met': 'by pixels: not met',
  'not shown': 'by pixels: not shown',
  unusable: 'by pixels: unusable',
} as const

/** The verdict by the other rule, in plain text beneath the frame of the one that was agreed. */
function beneathVerdict(promise: Promised, { results }: SheetContext): string | null {
  return promise.basis === 'detail' ? BY_PIXELS[standingOf(promise, 'pixels', results)] : null
}

function drawStrip(pen: Pen, promise: Promised, densities: Densities, columns: Grid, top: number): void {
  const { doc } = pen
  const middle = columns.strip + columns.stripWidth / 2
  artifact(pen, () => {
    strokePath(
      doc,
      LINE_PT.hair,
      GREY,
      [columns.strip, top + 8],
      [columns.strip + columns.stripWidth, top + 8],
    )
    strokePath(doc, LINE_PT.frame, INK, [middle, top], [middle, top + 16])
    if (densities.detail !== null)
      drawWhisker(doc, densities.detail, promise.limit, 'detail', columns.strip, top + 4, columns.stripWidth)
    if (densities.pixels !== null)
      drawWhisker(doc, densities.pixels, promise.limit, 'pixels', columns.strip, top + 12, columns.stripWidth)
  })
}

type Densities = Readonly<Record<'pixels' | 'detail', MaybeBound | null>>

/** The promise's value on either basis, both by the same marks; none with detail where nothing can be made out, whatever another reference lends. */
function densitiesOf(promise: Promised, results: WalkResults): Densities {
  const { basis, onOtherBasis } = promise
  const own = judgedDensity(promise, results)
  if (basis === 'detail') return { detail: own, pixels: onOtherBasis }
  return { detail: showsNothing(promise, results) ? null : onOtherBasis, pixels: own }
}
