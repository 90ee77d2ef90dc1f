import { escaped, LINE_ENDS } from '../../files/oneLine.js'
import { type Face, INK, LEADING, SIZE_PT, type TextStyle } from './typography.js'

type Align = 'left' | 'right' | 'centre'

/** What pdfkit keeps to itself: which signs the font in hand can draw, and how wide a text is at a size, whatever size is set. */
interface FontInHand {
  readonly font: { hasGlyphForCodePoint(codePoint: number): boolean }
  widthOfString(text: string, size: number): number
}

/** Units of a font's widths to its size. */
const UNITS = 1000

function fontInHand(doc: PDFKit.PDFDocument): FontInHand {
  return (doc as unknown as { _font: FontInHand })._font
}

function setStyle(doc: PDFKit.PDFDocument, style: TextStyle): void {
  doc.font(style.face ?? 'regular').fontSize(style.sizePt ?? SIZE_PT.body)
}

/** A sign the typeface lacks would print as an empty box and break PDF/A, so it becomes "?"; the attached files keep it. A control or direction sign is written as its number. */
function drawable(doc: PDFKit.PDFDocument, text: string): string {
  const { font } = fontInHand(doc)
  let out = ''
  for (const sign of escaped(text.normalize('NFC').replace(LINE_ENDS, ' '))) {
    if (/\p{Cf}/u.test(sign)) continue
    out += font.hasGlyphForCodePoint(sign.codePointAt(0) ?? 0) ? sign : '?'
  }
  return out
}

/** A word as it is drawn, its space with it: how many signs it has, and its width in the font's units. */
interface DrawnWord {
  readonly signs: number
  readonly advance: number
}

/** Words of each face that were measured before, in any document: lines grow by a word at a time, and every time all of it is asked for. */
const drawnWords: Record<Face, Map<string, DrawnWord>> = {
  regular: new Map(),
  semibold: new Map(),
  italic: new Map(),
}

function drawnWord(doc: PDFKit.PDFDocument, word: string, face: Face): DrawnWord {
  const known = drawnWords[face].get(word)
  if (known !== undefined) return known
  const drawn = drawable(doc, word)
  const measured = { signs: drawn.length, advance: fontInHand(doc).widthOfString(drawn, UNITS) }
  drawnWords[face].set(word, measured)
  return measured
}

/** Width of one line of text, points. */
export function textWidthPt(doc: PDFKit.PDFDocument, text: string, style: TextStyle): number {
  setStyle(doc, style)
  let [advance, signs] = [0, 0]
  // pdfkit lays out word by word, each with the space behind it.
  for (const word of text.replace(LINE_ENDS, ' ').split(/(?<= )/)) {
    const drawn = drawnWord(doc, word, style.face ?? 'regular')
    advance += drawn.advance
    signs += drawn.signs
  }
  return advance * ((style.sizePt ?? SIZE_PT.body) / UNITS) + (style.trackingPt ?? 0) * (signs - 1)
}

/** Height of one line of text, points. */
export function lineHeightPt(style: TextStyle): number {
  return (style.sizePt ?? SIZE_PT.body) * LEADING
}

/** Draws one line of text with its baseline at `baselinePt`; `xPt` is its left end, right end or middle. */
export function drawLine(
  doc: PDFKit.PDFDocument,
  line: string,
  xPt: number,
  baselinePt: number,
  style: TextStyle,
  align: Align = 'left',
): void {
  const text = align === 'left' ? line : line.trimEnd()
  const width = align === 'left' ? 0 : textWidthPt(doc, text, style)
  const x = align === 'left' ? xPt : align === 'right' ? xPt - width : xPt - width / 2
  setStyle(doc, style)
  doc.fillColor(style.colour ?? INK).text(drawable(doc, text), x, baselinePt, {
    lineBreak: false,
    baseline: 'alphabetic',
    characterSpacing: style.trackingPt ?? 0,
  })
}

/**
 * Breaks text into lines no wider than `widthPt`, at spaces; a word too long for a line (a path, a hash) is broken
 * after a slash, dash, dot or underscore, or where it must be; a newline always breaks. With `mostLines` the rest is cut with an ellipsis.
 */
export function wrapText(
  doc: PDFKit.PDFDocument,
  text: string,
  widthPt: number,
  style: TextStyle,
  mostLines = Infinity,
): string[] {
  const fits = (candidate: string): boolean => textWidthPt(doc, candidate, style) <= widthPt
  const lines = text.split('\n').flatMap((part) => wrapOne(part, fits))
  if (lines.length <= mostLines) return lines
  const kept = lines.slice(0, mostLines)
  let last = kept.at(-1)?.trimEnd() ?? ''
  while (last !== '' && !fits(`${last}…`)) last = [...last].slice(0, -1).join('')
  return [...kept.slice(0, -1), `${last.trimEnd()}…`]
}

function wrapOne(text: string, fits: (candidate: string) => boolean): string[] {
  const lines: string[] = []
  let line = ''
  // A figure keeps its per cent sign, and a space that does not break stays whole.
  for (const word of text
    .trim()
    .replace(/ %/g, '\u00a0%')
    .split(/[ \t\r]+/)) {
    const candidate = line === '' ? word : `${line} ${word}`
    if (fits(candidate)) {
      line = candidate
      continue
    }
    // The space at a line's end is kept: it parts the words for who reads the text out of the file.
    if (line !== '') lines.push(`${line} `)
    const pieces = fits(word) ? [word] : breakWord(word, fits)
    lines.push(...pieces.slice(0, -1))
    line = pieces.at(-1) ?? ''
  }
  lines.push(line)
  return lines
}

/** How many signs from the front fit a line, at least one; found by halving, as each trial lays the piece out anew. */
function mostThatFit(signs: readonly string[], fits: (candidate: string) => boolean): number {
  if (fits(signs.join(''))) return signs.length
  let [low, high] = [1, signs.length]
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2)
    if (fits(signs.slice(0, middle).join(''))) low = middle
    else high = middle
  }
  return low
}

function breakWord(word: string, fits: (candidate: string) => boolean): string[] {
  const pieces: string[] = []
  let rest = [...word]
  while (rest.length > 0) {
    let count = mostThatFit(rest, fits)
    if (count < rest.length) {
      const soft = rest.slice(0, count).findLastIndex((sign) => /[/\-._]/.test(sign)) + 1
      if (soft > count / 2) count = soft
    }
    pieces.push(rest.slice(0, count).join(''))
    rest = rest.slice(count)
  }
  return pieces
}

/** Draws lines below one another, the first one's top at `topPt`; returns the height they take, points. */
export function drawLines(
  doc: PDFKit.PDFDocument,
  lines: readonly string[],
  xPt: number,
  topPt: number,
  style: TextStyle,
  align: Align = 'left',
): number {
  lines.forEach((line, index) => drawLine(doc, line, xPt, baselineBelow(topPt, style, index), style, align))
  return lines.length * lineHeightPt(style)
}

/** The baseline of the nth line of a block whose top is at `topPt`. */
export function baselineBelow(topPt: number, style: TextStyle, index = 0): number {
  return topPt + (index + 0.77) * lineHeightPt(style)
}
