import type { PageFrame } from './pageFrame.js'
import { artifact } from './tagged.js'
import { drawLine, textWidthPt, wrapText } from './text.js'
import { GREY, INK, LINE_PT, SIZE_PT, type TextStyle, TINY_GREY } from './typography.js'
import { strokePath } from './strokePath.js'

const SIMULATED: TextStyle = { sizePt: SIZE_PT.small, face: 'semibold', trackingPt: 0.7 }
const HEAD_AT_PT = 36
const FOOT_AT_PT = 30

/** What stands at every page's head and foot. */
export interface RunningHead {
  readonly facts: { readonly site: string; readonly camera: string; readonly date: string | null }
  readonly simulated: boolean
  /** What kind of paper it is; the acceptance sheet where not said. */
  readonly kind?: string
  /** Whether the foot has room for initials; it has where not said. */
  readonly initials?: boolean
}

/** Draws every page's head (site, camera, SIMULATED) and foot (date, room for initials, page number). Runs once all pages exist. */
export function drawRunningHeads(doc: PDFKit.PDFDocument, frame: PageFrame, head: RunningHead): void {
  const { start, count } = doc.bufferedPageRange()
  for (let index = 0; index < count; index++) {
    doc.switchToPage(start + index)
    artifact({ doc }, () => drawHead(doc, frame, head), 'Pagination')
    artifact({ doc }, () => drawFoot(doc, frame, head, index + 1, count), 'Pagination')
  }
}

function drawHead(doc: PDFKit.PDFDocument, frame: PageFrame, head: RunningHead): void {
  const { facts, simulated, kind = 'Acceptance sheet' } = head
  drawLine(doc, kind, frame.right, HEAD_AT_PT, TINY_GREY, 'right')
  const middle = (frame.left + frame.right) / 2
  const half = simulated ? textWidthPt(doc, 'SIMULATED', SIMULATED) / 2 + 14 : 0
  const room = simulated ? middle - half - frame.left : frame.right - frame.left - 80
  const [camera = ''] = wrapText(doc, facts.camera, room * 0.45, TINY_GREY, 1)
  const siteRoom = room - textWidthPt(doc, ` · ${camera}`, TINY_GREY)
  const [site = ''] = wrapText(doc, facts.site, siteRoom, TINY_GREY, 1)
  drawLine(doc, `${site} · ${camera}`, frame.left, HEAD_AT_PT, TINY_GREY)
  if (simulated) {
    drawLine(doc, 'SIMULATED', middle, HEAD_AT_PT + 0.6, SIMULATED, 'centre')
    doc
      .lineWidth(LINE_PT.rule)
      .rect(middle - half + 6, HEAD_AT_PT - 9, 2 * half - 12, 13)
      .stroke(INK)
  }
  strokePath(doc, LINE_PT.hair, GREY, [frame.left, HEAD_AT_PT + 8], [frame.right, HEAD_AT_PT + 8])
}

function drawFoot(
  doc: PDFKit.PDFDocument,
  frame: PageFrame,
  { facts, initials = true }: RunningHead,
  page: number,
  pages: number,
): void {
  const y = frame.heightPt - FOOT_AT_PT
  if (facts.date !== null) drawLine(doc, `Walk of ${facts.date}`, frame.left, y, TINY_GREY)
  drawLine(doc, `Page ${page} of ${pages}`, frame.right, y, TINY_GREY, 'right')
  if (page === pages || !initials) return
  const middle = (frame.left + frame.right) / 2
  drawLine(doc, 'Initials', middle - 62, y, TINY_GREY, 'right')
  for (const left of [middle - 56, middle + 8]) {
    strokePath(doc, LINE_PT.hair, INK, [left, y + 1], [left + 54, y + 1])
  }
}
