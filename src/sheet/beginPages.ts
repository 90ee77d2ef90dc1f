import type { PageFrame } from './document/pageFrame.js'
import { type Pen, turnPage } from './document/pen.js'

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
