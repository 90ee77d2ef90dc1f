import { asSentence } from '../../sentences.js'
import { shareText } from '../../units/printedShare.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { ROW_WORDS } from '../../walk/trial/sentences.js'
import { ensureRoom, type Pen } from '../document/pen.js'
import { drawParagraph, drawSectionHead, drawSubhead } from '../document/prose.js'
import { tagged, within } from '../document/tagged.js'
import { drawLines, lineHeightPt, wrapText } from '../document/text.js'
import { GREY, LINE_PT, SMALL, SMALL_GREY, SMALL_STRONG } from '../document/typography.js'
import type { SheetContext } from '../input/sheetContext.js'
import type { ReadPicture } from '../input/sheetInput.js'
import { drawReadingPlot, READING_PLOT_PT } from '../plots/readingPlot.js'
import { sheetSays } from '../sentences.js'

type Reading = WalkResults['readings'][number]

const ROWS = ['full', 'text', 'faint'] as const
const ACROSS = 3
const GUTTER_PT = 12
const PICTURE_PT = 44
const CAPTION_LINES = 4

/** The reading trial: of everything that was read the curve, how far out it was read and by whom, and pictures as readers saw them with what they read. */
export function drawReadingAnnex(pen: Pen, context: SheetContext, pictures: readonly ReadPicture[]): void {
  drawSectionHead(pen, 'What readers read, shown blind', READING_PLOT_PT + 60)
  drawParagraph(pen, asSentence(sheetSays['how-it-was-read']().message), SMALL)
  const { readings } = context.results
  const inOrder = ROWS.flatMap((row) => readings.filter((reading) => reading.row === row))
  for (const reading of inOrder) {
    const { light, reference, row } = reading
    drawSubhead(pen, `${light}, ${reference}: ${ROW_WORDS[row]}`, READING_PLOT_PT + 30)
    drawReadingPlot(pen, context, reading)
    drawParagraph(pen, readingWords(reading, context), SMALL)
    drawPictures(
      pen,
      context,
      pictures.filter((one) => one.light === light && one.reference === reference && one.row === row),
    )
  }
}

/** How far out it was read and by whom, in sentences. */
function readingWords(
  { read95, read50, readers, cards, agreement }: Reading,
  { figures }: SheetContext,
): string {
  const reach = (read: Reading['read95']): string | null => {
    if (read === null) return null
    const { value, low, high } = figures.reach({ ...read, value: read.distance })
    return `${value} ${figures.lengthUnit} (${low} to ${high})`
  }
  const names = readers.map(({ reader, share }) => `${reader} ${shareText(share)}`)
  return [
    sheetSays['read-out-to'](reach(read95), reach(read50)),
    sheetSays['read-by'](readers.length, cards, names.join(', ')),
    ...(agreement === null ? [] : [sheetSays['readers-agree'](shareText(agreement))]),
  ]
    .map(({ message }) => asSentence(message))
    .join(' ')
}

function drawPictures(pen: Pen, context: SheetContext, pictures: readonly ReadPicture[]): void {
  if (pictures.length === 0) return
  if (pictures.every(({ image }) => image === null))
    return drawParagraph(pen, asSentence(sheetSays['read-masked']().message), SMALL_GREY)
  const widthPt = (pen.frame.right - pen.frame.left - (ACROSS - 1) * GUTTER_PT) / ACROSS
  const rowPt = PICTURE_PT + (1 + CAPTION_LINES) * lineHeightPt(SMALL) + 8
  within(pen, 'Table', () => {
    for (let from = 0; from < pictures.length; from += ACROSS) {
      ensureRoom(pen, rowPt)
      within(pen, 'TR', () =>
        pictures.slice(from, from + ACROSS).forEach((picture, index) => {
          drawPicture(pen, context, picture, pen.frame.left + index * (widthPt + GUTTER_PT), widthPt)
        }),
      )
      pen.y += rowPt
    }
  })
}

function drawPicture(
  pen: Pen,
  { figures, simulated }: SheetContext,
  { distance, shown, answers, image }: ReadPicture,
  leftPt: number,
  widthPt: number,
): void {
  const { doc } = pen
  const top = pen.y
  const at = figures.distance(distance)
  const said = answers.map(({ answered }) => answered ?? 'cannot tell')
  within(pen, 'TD', () => {
    if (image !== null) {
      const size = pngSize(image)
      const scale = Math.min(widthPt / size.width, PICTURE_PT / size.height)
      const box = { width: size.width * scale, height: size.height * scale }
      tagged(
        pen,
        'Figure',
        () => {
          doc.image(Buffer.from(image), leftPt, top, box)
          doc.lineWidth(LINE_PT.hair).rect(leftPt, top, box.width, box.height).stroke(GREY)
        },
        {
          alt: `What readers were shown of ${shown} at ${at}${simulated ? ' (simulated)' : ''}`,
          bbox: [leftPt, top, leftPt + box.width, top + box.height],
        },
      )
    }
    const captionTop = top + PICTURE_PT + 2
    const head = `${at}: ${shown}${simulated ? ' (simulated)' : ''}`
    tagged(pen, 'P', () => void drawLines(doc, [head], leftPt, captionTop, SMALL_STRONG))
    const lines = wrapText(doc, `read: ${said.join(', ')}`, widthPt, SMALL_GREY, CAPTION_LINES)
    tagged(
      pen,
      'P',
      () => void drawLines(doc, lines, leftPt, captionTop + lineHeightPt(SMALL_STRONG), SMALL_GREY),
    )
  })
}

/** Width and height as a PNG's header has them, px. */
function pngSize(png: Uint8Array): { readonly width: number; readonly height: number } {
  const header = new DataView(png.buffer, png.byteOffset, png.byteLength)
  return { width: header.getUint32(16), height: header.getUint32(20) }
}
