import type { Pen } from './pen.js'
import type { SheetContext } from '../input/sheetContext.js'
import { artifact, tagged } from './tagged.js'
import { baselineBelow, drawLine, wrapText } from './text.js'
import { INK, LINE_PT, SMALL_STRONG, TINY_GREY } from './typography.js'
import { strokePath } from './strokePath.js'

/** Height of the room for two signatures, points. */
export const SIGNATURES_PT = 74

/** Who hands over and who accepts, where that is said. */
interface Signing {
  readonly facts: Pick<SheetContext['facts'], 'issuer' | 'walkedBy' | 'client'>
}

/** Room for two signatures side by side: name, date and signature of who hands over and of who accepts. */
export function drawSignatures(pen: Pen, { facts }: Signing): void {
  const gutter = 28
  const width = (pen.frame.right - pen.frame.left - gutter) / 2
  const sides = [
    { title: 'Handed over', who: facts.issuer ?? facts.walkedBy },
    { title: 'Accepted', who: facts.client },
  ]
  const top = pen.y + 6
  sides.forEach(({ title, who }, index) => {
    const left = pen.frame.left + index * (width + gutter)
    tagged(pen, 'P', () => {
      const named = who === null ? title : `${title}: ${who}`
      const [line = ''] = wrapText(pen.doc, named, width, SMALL_STRONG, 1)
      drawLine(pen.doc, line, left, baselineBelow(top, SMALL_STRONG), SMALL_STRONG)
    })
    signingLine(pen, 'Name', left, left + width * 0.62, top + 29)
    signingLine(pen, 'Date', left + width * 0.68, left + width, top + 29)
    signingLine(pen, 'Signature', left, left + width, top + 59)
  })
  pen.y += SIGNATURES_PT
}

function signingLine(pen: Pen, label: string, left: number, right: number, y: number): void {
  artifact(pen, () => strokePath(pen.doc, LINE_PT.hair, INK, [left, y], [right, y]))
  tagged(pen, 'P', () => drawLine(pen.doc, label, left, y + 9, TINY_GREY))
}
