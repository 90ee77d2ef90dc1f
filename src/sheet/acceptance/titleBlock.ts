import type { Pen } from '../document/pen.js'
import type { SheetContext } from '../input/sheetContext.js'
import { drawRule } from '../document/drawRule.js'
import { baselineBelow, drawLine, drawLines, lineHeightPt, wrapText } from '../document/text.js'
import { tagged, within } from '../document/tagged.js'
import { drawBlock } from '../document/prose.js'
import { GREY, INK, LEAD, LINE_PT, SMALL, TINY_GREY, TITLE } from '../document/typography.js'

const COLUMNS = 4
const GUTTER_PT = 14
const LOGO_PT = { width: 110, height: 40 } as const

interface Fact {
  readonly label: string
  readonly value: string
  /** How many of the four columns it may take. */
  readonly span: number
}

/** The head of the first page: site, camera, who issued it, and the facts of the walk in four columns. */
export function drawTitleBlock(pen: Pen, context: SheetContext, logo: Uint8Array | undefined): void {
  const { facts } = context
  const top = pen.y
  const widthPt = pen.frame.right - pen.frame.left - LOGO_PT.width - 2 * GUTTER_PT
  if (logo !== undefined) drawLogo(pen, logo, facts.issuer)
  pen.y -= 3
  drawBlock(pen, 'H1', facts.site, TITLE, { mostLines: 3, gapPt: 1, widthPt })
  drawBlock(pen, 'P', facts.camera, LEAD, { mostLines: 2, gapPt: 9, widthPt })
  if (logo !== undefined) pen.y = Math.max(pen.y, top + LOGO_PT.height + 10)
  drawFacts(pen, factsOf(context, logo !== undefined))
}

function factsOf({ facts, results }: SheetContext, hasLogo: boolean): Fact[] {
  const rows: (readonly [string, string | null, number])[] = [
    ['Date', dateText(facts), 1],
    ['Client', facts.client, 1],
    ['Walked by', facts.walkedBy, 1],
    ['Measured by', facts.measuredBy, 1],
    ...facts.cameraDetails.map(
      ([key, value]) => [`Camera ${key}`, value, key === 'settings' ? 2 : 1] as const,
    ),
    ['Issued by', facts.issuer, hasLogo ? 2 : 1],
    ['Agreed grades', gradingSource(results.grading), 2],
    ...facts.conditions.map(({ light, text }) => [`Conditions, ${light}`, text, 1] as const),
  ]
  return rows.flatMap(([label, value, span]) => (value === null ? [] : [{ label, value, span }]))
}

/** The date of the walk, and that nobody wrote it down where its stills alone say it. */
function dateText({ date, dateFrom }: SheetContext['facts']): string {
  if (date === null) return 'not stated'
  return dateFrom === 'stills' ? `${date}, as the stills say` : date
}

function drawFacts(pen: Pen, facts: readonly Fact[]): void {
  const { doc, frame } = pen
  const column = (frame.right - frame.left - (COLUMNS - 1) * GUTTER_PT) / COLUMNS
  drawRule(pen, pen.y, LINE_PT.rule, frame.left, frame.right, INK)
  pen.y += 5
  within(pen, 'L', () => rowsOf(facts).forEach(drawRow))
  drawRule(pen, pen.y + 1, LINE_PT.hair, frame.left, frame.right, GREY)
  pen.y += 4

  function drawRow(row: readonly Fact[]): void {
    let tallest = 0
    let at = 0
    for (const fact of row) {
      const x = frame.left + at * (column + GUTTER_PT)
      const width = fact.span * column + (fact.span - 1) * GUTTER_PT
      const lines = wrapText(doc, fact.value, width, SMALL, 4)
      within(pen, 'LI', () => {
        tagged(pen, 'Lbl', () => drawLine(doc, fact.label, x, baselineBelow(pen.y, TINY_GREY), TINY_GREY))
        const top = pen.y + lineHeightPt(TINY_GREY)
        tagged(pen, 'LBody', () => void drawLines(doc, lines, x, top, SMALL))
      })
      tallest = Math.max(tallest, lineHeightPt(TINY_GREY) + lines.length * lineHeightPt(SMALL))
      at += fact.span
    }
    pen.y += tallest + 4
  }
}

function rowsOf(facts: readonly Fact[]): Fact[][] {
  const rows: Fact[][] = []
  let used = COLUMNS
  for (const fact of facts) {
    if (used + fact.span > COLUMNS) {
      rows.push([])
      used = 0
    }
    rows.at(-1)?.push(fact)
    used += fact.span
  }
  return rows
}

function drawLogo(pen: Pen, logo: Uint8Array, issuer: string | null): void {
  const left = pen.frame.right - LOGO_PT.width
  const options = { fit: [LOGO_PT.width, LOGO_PT.height] as [number, number], align: 'right' as const }
  tagged(pen, 'Figure', () => void pen.doc.image(Buffer.from(logo), left, pen.y, options), {
    alt: `Logo of ${issuer ?? 'the issuer'}`,
    bbox: [left, pen.y, pen.frame.right, pen.y + LOGO_PT.height],
  })
}

function gradingSource({ name, source }: { readonly name: string; readonly source: string }): string {
  return source === '' || source.startsWith(name) ? source || name : `${name}. ${source}`
}
