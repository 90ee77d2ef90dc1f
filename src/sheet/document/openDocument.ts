import PDFDocument from 'pdfkit'
import { productVersion } from '../../version.js'
import { fontPath, type Face } from './typography.js'
import type { PageFrame } from './pageFrame.js'

/** What a sheet says it was written by: only the same release is held to print its figures as this one does. */
export const PRODUCER = `Proofwalk ${productVersion}`

export interface DocumentProperties {
  readonly title: string
  readonly subject: string
  readonly author: string | null
  /** The document's date; no clock is read. */
  readonly date: Date
  readonly keywords?: string
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
      ...(properties.keywords === undefined ? {} : { Keywords: properties.keywords }),
      Creator: 'Proofwalk',
      Producer: PRODUCER,
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

/** The document's bytes once it has ended. Call before anything is drawn. */
export function collectBytes(doc: PDFKit.PDFDocument): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    const chunks: Uint8Array[] = []
    doc.on('data', (chunk: Uint8Array) => chunks.push(chunk))
    doc.on('end', () => resolve(new Uint8Array(Buffer.concat(chunks))))
    doc.on('error', reject)
  })
}

const ENTITIES: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' }

/** Text as it may stand in an XML element: entities for the four signs, control characters left out. */
export function escapeXml(text: string): string {
  return text.replace(/\p{Cc}/gu, ' ').replace(/[&<>"]/g, (sign) => ENTITIES[sign] ?? sign)
}

/** Stands in the document's properties where a walk gives no date; it is printed nowhere. */
const NO_DATE = '2000-01-01'

/** The walk's date as the document's date, at noon UTC so that it is the same day nearly everywhere. No clock is read. */
export function walkDate(isoDate: string | null): Date {
  const day = /^\d{4}-\d{2}-\d{2}/.exec(isoDate ?? '')?.[0] ?? NO_DATE
  const date = new Date(`${day}T12:00:00Z`)
  return Number.isNaN(date.getTime()) ? new Date(`${NO_DATE}T12:00:00Z`) : date
}
