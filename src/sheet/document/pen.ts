import type { PageFrame } from './pageFrame.js'

/** Where the sheet is being written: the document, the type area, the height reached and the structure it goes into. */
export interface Pen {
  readonly doc: PDFKit.PDFDocument
  readonly frame: PageFrame
  /** Top of the free room on the page, points from the page's top. */
  y: number
  /** The structure element that new content becomes a child of. */
  parent: PDFKit.PDFStructureElement
}

/** Goes on at the top of a fresh page. */
export function turnPage(pen: Pen): void {
  pen.doc.addPage()
  pen.y = pen.frame.top
}

/** Room left on the page, points. */
export function roomLeftPt(pen: Pen): number {
  return pen.frame.bottom - pen.y
}

/** Turns the page where less than `heightPt` is left, unless the page is still empty; says whether it did. */
export function ensureRoom(pen: Pen, heightPt: number): boolean {
  if (roomLeftPt(pen) >= heightPt || pen.y <= pen.frame.top) return false
  turnPage(pen)
  return true
}

/** The structure tree of an opened document and a pen on its first page. Whoever draws ends the tree. */
export function beginPages(
  doc: PDFKit.PDFDocument,
  frame: PageFrame,
): { readonly root: PDFKit.PDFStructureElement; readonly pen: Pen } {
  const root = doc.struct('Document')
  doc.addStructure(root)
  const pen: Pen = { doc, frame, y: 0, parent: root }
  turnPage(pen)
  return { root, pen }
}
