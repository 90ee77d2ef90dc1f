import type { SheetInput } from '../input/sheetInput.js'

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

/** What may be attached, and what it is. */
const FILES = [
  ['results.json', 'results', 'application/json', 'What was measured', 'Data'],
  ['walk.yaml', 'walk', 'application/yaml', 'The walk as it was written, without its comments', 'Source'],
  ['picks.json', 'picks', 'application/json', 'The points picked on the stills', 'Source'],
] as const

/** The names of the files that are attached, with what each is. */
export function attachedFiles({ attachments, attach = 'all' }: Pick<SheetInput, 'attachments' | 'attach'>) {
  return FILES.filter(
    ([, key]) =>
      attachments[key] !== null && (attach === 'all' || (attach === 'results' && key === 'results')),
  )
}

/** Attaches the walk's files to the document, byte for byte, dated with the walk's date. */
export function attachFiles(doc: PDFKit.PDFDocument, input: SheetInput, date: Date): void {
  for (const [name, key, type, description, relationship] of attachedFiles(input)) {
    ;(doc as unknown as Attaching).file(Buffer.from(input.attachments[key]!), {
      name,
      type,
      description,
      relationship,
      creationDate: date,
      modifiedDate: date,
    })
  }
}
