import type { SheetAttachments } from '../input/sheetInput.js'

/** What pdfkit's own types leave out: how the attached file relates to the document. */
interface AttachmentOptions {
  readonly name: string
  readonly type: string
  readonly description: string
  readonly creationDate: Date
  readonly modifiedDate: Date
  readonly relationship: 'Data' | 'Source'
}

interface Attaching {
  file(bytes: Buffer, options: AttachmentOptions): unknown
}

/** Attaches the walk's files to the document, byte for byte, dated with the walk's date. */
export function attachFiles(doc: PDFKit.PDFDocument, attachments: SheetAttachments, date: Date): void {
  const files = [
    ['results.json', 'application/json', 'What was measured', 'Data', attachments.results],
    ['walk.yaml', 'application/yaml', 'The walk as it was written', 'Source', attachments.walk],
    ['picks.json', 'application/json', 'The points picked on the stills', 'Source', attachments.picks],
  ] as const
  for (const [name, type, description, relationship, bytes] of files) {
    if (bytes === null) continue
    ;(doc as unknown as Attaching).file(Buffer.from(bytes), {
      name,
      type,
      description,
      relationship,
      creationDate: date,
      modifiedDate: date,
    })
  }
}
