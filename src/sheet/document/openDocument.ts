import PDFDocument from 'pdfkit'
import { fontPath } from '../fonts.js'
import type { PageFrame } from './pageFrame.js'
import { escapeXml } from '../escapeXml.js'
import type { Face } from './typography.js'

export interface DocumentProperties {
  readonly title: string
  readonly subject: string
  readonly author: string | null
  /** The document's date; no clock is read. */
  readonly date: Date
}

/** What pdfkit keeps to itself and the metadata needs; held down by the test of a site called "A & B". */
interface MetadataWriter {
  info: Record<string, unknown>
  _addInfo(): void
}

const FACES: readonly Face[] = ['regular', 'semibold', 'italic']

/**
 * An empty document that declares PDF/A-3a: tagged, its language given, its three faces registered for embedding.
 * It has no page yet; pages are buffered so that heads and page numbers can be drawn at the end.
 */
export function openDocument(frame: PageFrame, properties: DocumentProperties): PDFKit.PDFDocument {
  const doc = new PDFDocument({
    subset: 'PDF/A-3a',
    pdfVersion: '1.7',
    tagged: true,
    displayTitle: true,
    lang: 'en-GB',
    size: [frame.widthPt, frame.heightPt],
    margins: { top: 0, bottom: 0, left: 0, right: 0 },
    autoFirstPage: false,
    bufferPages: true,
    // None to begin with: pdfkit would take Helvetica, unembedded; and a file opened here is opened anew at every use by name.
    font: '',
    info: {
      Title: properties.title,
      Subject: properties.subject,
      ...(properties.author === null ? {} : { Author: properties.author }),
      Creator: 'Proofwalk',
      Producer: 'Proofwalk',
      CreationDate: properties.date,
      ModDate: properties.date,
    },
  })
  for (const face of FACES) doc.registerFont(face, fontPath(face))
  doc.font('regular')
  escapeMetadata(doc as unknown as MetadataWriter)
  return doc
}

// pdfkit copies the title into the XMP packet as it stands, and a "&" breaks the packet.
function escapeMetadata(doc: MetadataWriter): void {
  const write = doc._addInfo.bind(doc)
  doc._addInfo = () => {
    const plain = doc.info
    doc.info = Object.fromEntries(
      Object.entries(plain).map(([key, value]) => [
        key,
        typeof value === 'string' ? escapeXml(value) : value,
      ]),
    )
    write()
    doc.info = plain
  }
}
