import { asSentence } from '../../sentences.js'
import { printedShare, shareText } from '../../units/printedShare.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { drawRule } from '../document/drawRule.js'
import { ensureRoom, type Pen } from '../document/pen.js'
import { drawBlock, drawSubhead } from '../document/prose.js'
import { tagged, within } from '../document/tagged.js'
import { baselineBelow, drawLine, drawLines, lineHeightPt, wrapText } from '../document/text.js'
import { BODY_STRONG, SMALL, SMALL_GREY, SMALL_STRONG, TINY_GREY } from '../document/typography.js'
import type { SheetContext } from '../input/sheetContext.js'
import { sheetSays } from '../sentences.js'
import { MOST_ASKED_LINES } from './claimLines.js'
import { drawVerdictFrame, VERDICT_FRAME_PT } from '../tables/verdictFrame.js'

type Promised = WalkResults['promises'][number]

/** A promise that text is read, with its number in the list and its words: what was asked, and what that comes to. */
export interface NumberedRead {
  readonly promise: Promised
  readonly number: number
  readonly claim: readonly [string, string?]
}

/** Room the columns of figures take, points. */
const COLUMN_PT = 84

/** What readers were to read, shown blind: a row each with the share read, the pixels there, which explain it, and the verdict. */
export function drawReadPromises(pen: Pen, context: SheetContext, promises: readonly NumberedRead[]): void {
  if (promises.length === 0) return
  drawSubhead(pen, 'What must be read', 60)
  drawBlock(pen, 'P', asSentence(sheetSays['judged-by-readers']().message), SMALL, { gapPt: 3 })
  const verdict = pen.frame.right - VERDICT_FRAME_PT.width
  const columns = {
    claim: pen.frame.left + 15,
    share: verdict - 16 - COLUMN_PT,
    pixels: verdict - 16,
    verdict,
  }
  within(pen, 'Table', () => {
    drawHead(pen, columns, context)
    for (const one of promises) drawRow(pen, one, columns, context)
  })
  pen.y += 2
}

/** Where the columns stand, points: left edges of claim and verdict, right edges of the figures. */
type Grid = Readonly<Record<'claim' | 'share' | 'pixels' | 'verdict', number>>

function drawHead(pen: Pen, columns: Grid, { figures }: SheetContext): void {
  const y = baselineBelow(pen.y, TINY_GREY)
  within(pen, 'TR', () => {
    for (const [text, x, align] of [
      ['Promised', columns.claim, 'left'],
      ['characters read', columns.share, 'right'],
      [`${figures.densityUnit} by pixels`, columns.pixels, 'right'],
      ['Verdict', columns.verdict, 'left'],
    ] as const)
      tagged(pen, 'TH', () => drawLine(pen.doc, text, x, y, TINY_GREY, align), { scope: 'Column' })
  })
  pen.y += lineHeightPt(TINY_GREY) + 2
  drawRule(pen, pen.y)
  pen.y += 4
}

function drawRow(
  pen: Pen,
  { promise, number, claim }: NumberedRead,
  columns: Grid,
  context: SheetContext,
): void {
  const { doc } = pen
  const width = columns.share - COLUMN_PT - columns.claim
  const [words, comesTo] = claim
  // The buyer's own words are never cut short.
  const asked = wrapText(doc, words, width, BODY_STRONG, MOST_ASKED_LINES)
  const askedPt = (asked.length - 1) * lineHeightPt(BODY_STRONG)
  const held = [...(comesTo === undefined ? [] : [comesTo]), promise.light, promise.reference ?? 'every text']
  const where = wrapText(doc, `${held.join(', ')} · limit ${shareText(promise.limit)}`, width, SMALL_GREY, 2)
  const reason = wrapText(doc, asSentence(promise.why), columns.pixels - columns.claim, SMALL, 6)
  const reasonPt = askedPt + (1 + where.length) * lineHeightPt(SMALL) + 4
  const heightPt = reasonPt + reason.length * lineHeightPt(SMALL) + 9
  ensureRoom(pen, heightPt)
  const top = pen.y
  const first = baselineBelow(top, BODY_STRONG)
  const second = first + lineHeightPt(SMALL)
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
            drawLine(doc, line, columns.claim, second + askedPt + index * lineHeightPt(SMALL), SMALL_GREY),
          ),
        )
        part(() => void drawLines(doc, reason, columns.claim, top + reasonPt, SMALL))
      },
      { scope: 'Row' },
    )
    for (const { column, texts } of readFigures(promise, context))
      tagged(pen, 'TD', () => {
        const [value, interval] = texts
        const style = column === 'share' ? SMALL_STRONG : SMALL
        drawLine(doc, value, columns[column], first, style, 'right')
        if (interval !== undefined) drawLine(doc, interval, columns[column], second, SMALL_GREY, 'right')
      })
    tagged(pen, 'TD', () => drawVerdictFrame(doc, promise.verdict, columns.verdict, top))
  })
  pen.y = top + heightPt
  drawRule(pen, pen.y - 5)
}

/** Its figures as they are printed, column by column: a value and its interval, or a dash. */
export function readFigures(
  { value, low, high, limit, onOtherBasis }: Promised,
  { figures }: SheetContext,
): { readonly column: 'share' | 'pixels'; readonly texts: readonly [string, string?] }[] {
  const read =
    value === null || low === null || high === null ? null : printedShare({ value, low, high }, limit)
  return [
    { column: 'share', texts: read === null ? ['–'] : [`${read.value} %`, `${read.low} to ${read.high} %`] },
    {
      column: 'pixels',
      texts:
        onOtherBasis === null ? ['–'] : [figures.density(onOtherBasis).value, figures.interval(onOtherBasis)],
    },
  ]
}
