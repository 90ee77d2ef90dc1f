import { underLights } from '../../grade/compare/changeWords.js'
import { figuresOf } from '../../units/figures.js'
import type { ComparedPictures, ComparisonInput } from '../input/sheetInput.js'
import { ensureRoom, type Pen } from '../document/pen.js'
import { drawParagraph, drawSubhead } from '../document/prose.js'
import { tagged } from '../document/tagged.js'
import { strokePath } from '../document/strokePath.js'
import { baselineBelow, drawLine, lineHeightPt } from '../document/text.js'
import { GREY, INK, LINE_PT, SMALL, TINY_GREY } from '../document/typography.js'

const GUTTER_PT = 8
/** The seam is marked so far above and below the pictures, not on them. */
const MARK_PT = 5

/** One still before and one after side by side, and a part of both cut at the same pixels and joined about a seam. */
export function drawComparedPictures(pen: Pen, { before, after, pictures }: ComparisonInput): void {
  if (pictures === null) return
  const { light, marksM, wholes, aspect, seam } = pictures
  const { frame } = pen
  const width = frame.right - frame.left
  const each = (width - GUTTER_PT) / 2
  const seamPt = seam === null ? 0 : seam.aspect * width + 2 * MARK_PT
  const room = aspect * each + lineHeightPt(TINY_GREY) + seamPt + 40
  drawSubhead(pen, `The scene before and after, ${underLights([light])}`, room)
  const simulated = before.walk.simulated || after.walk.simulated ? ', SIMULATED' : ''
  const words = ([before, after] as const).map((one, side) => {
    const when = side === 0 ? 'before' : 'after'
    return `${when}, ${one.walk.date ?? 'no date'}, the ${figuresOf(one).distance(marksM[side]!)} mark${simulated}`
  })
  const bottom = pen.y + aspect * each
  wholes.forEach((image, side) => {
    const left = frame.left + side * (each + GUTTER_PT)
    drawPicture(pen, image, [left, pen.y, left + each, bottom], words[side]!)
    drawFrame(pen, [left, pen.y, left + each, bottom])
    tagged(pen, 'P', () =>
      drawLine(pen.doc, words[side]!, left, baselineBelow(bottom + 1, TINY_GREY), TINY_GREY),
    )
  })
  pen.y = bottom + lineHeightPt(TINY_GREY) + 4
  if (seam !== null) drawSeam(pen, seam, simulated)
}

function drawSeam(
  pen: Pen,
  { left, right, aspect }: NonNullable<ComparedPictures['seam']>,
  simulated: string,
): void {
  const { frame, doc } = pen
  const middle = (frame.left + frame.right) / 2
  const height = aspect * (frame.right - frame.left)
  ensureRoom(pen, height + 2 * MARK_PT)
  const [top, bottom] = [pen.y + MARK_PT, pen.y + MARK_PT + height]
  drawPicture(pen, left, [frame.left, top, middle, bottom], 'left of the seam: before')
  drawPicture(pen, right, [middle, top, frame.right, bottom], 'right of the seam: after')
  // No line along the seam itself: it would hide what does not meet there.
  drawFrame(pen, [frame.left, top, frame.right, bottom])
  for (const [from, to] of [
    [top - MARK_PT, top],
    [bottom, bottom + MARK_PT],
  ] as const)
    strokePath(doc, LINE_PT.rule, INK, [middle, from], [middle, to])
  pen.y = bottom + MARK_PT + 2
  const told = `Left of the seam before, right of it after, cut at the same pixels${simulated}: what does not meet at the seam has moved in the picture.`
  drawParagraph(pen, told, SMALL)
}

type Box = readonly [left: number, top: number, right: number, bottom: number]

function drawFrame({ doc }: Pen, [left, top, right, bottom]: Box): void {
  doc
    .lineWidth(LINE_PT.hair)
    .rect(left, top, right - left, bottom - top)
    .stroke(GREY)
}

function drawPicture(pen: Pen, image: Uint8Array, bbox: Box, alt: string): void {
  const { doc } = pen
  const [left, top, right, bottom] = bbox
  const size = { width: right - left, height: bottom - top }
  tagged(pen, 'Figure', () => void doc.image(Buffer.from(image), left, top, size), { alt, bbox })
}
