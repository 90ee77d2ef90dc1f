import { fault } from '../../sentences.js'
import type { SheetAttach } from '../input/sheetInput.js'
import { sheetSays } from '../sentences.js'

/** What a sheet's file holds: the text of its pages in the order it is drawn, and its attachments by name. */
export interface SheetPdf {
  readonly text: string
  /** What wrote it, its release included where it says so. */
  readonly producer: string | null
  /** Which of its walk's files it says it was written with. */
  readonly attach: SheetAttach
  readonly attachments: ReadonlyMap<string, Uint8Array>
}

const ATTACH: readonly SheetAttach[] = ['all', 'results', 'none']

interface Attachment {
  readonly filename: string
  readonly content: Uint8Array
}

/**
 * Reads a PDF's text and attachments.
 * @throws `ProofwalkError` `not-a-pdf` where it cannot be read as one; `file` is how it is named there
 */
export async function readSheetPdf(bytes: Uint8Array, file: string): Promise<SheetPdf> {
  const { getDocumentProxy } = await import('unpdf')
  try {
    // A copy: the reader takes what it is given away.
    const document = await getDocumentProxy(new Uint8Array(bytes), { verbosity: 0 })
    const texts: string[] = []
    for (let page = 1; page <= document.numPages; page += 1) {
      const { items } = await (await document.getPage(page)).getTextContent()
      texts.push(items.map((item: object) => ('str' in item ? String(item.str) : '')).join(''))
    }
    const { info } = (await document.getMetadata()) as {
      info: Partial<Record<'Producer' | 'Keywords', unknown>>
    }
    const producer = typeof info.Producer === 'string' ? info.Producer : null
    const attach = ATTACH.find((one) => info.Keywords === `attached ${one}`) ?? 'all'
    const attached = ((await document.getAttachments()) ?? {}) as Record<string, Attachment>
    await document.destroy()
    const attachments = new Map(
      Object.values(attached).map(({ filename, content }) => [filename, new Uint8Array(content)]),
    )
    return { text: texts.join('\n'), producer, attach, attachments }
  } catch (error) {
    throw fault(sheetSays['not-a-pdf']((error as Error).message), { file })
  }
}
