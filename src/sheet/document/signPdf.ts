import { P12Signer } from '@signpdf/signer-p12'
import { fault } from '../../sentences.js'
import { sheetSays } from '../sentences.js'

/** A key with its certificate as a PKCS#12 file holds them, and what opens it. */
export interface SigningKey {
  /** As the user named it. */
  readonly file: string
  readonly bytes: Uint8Array
  readonly passphrase: string
}

/** Room for the signature and its chain of certificates, bytes: this project's convention. */
const MOST_SIGNATURE_BYTES = 16_384
/** Filled in once the file's length is known. */
const RANGE_PLACE = '/ByteRange [0 ********** ********** **********]'

/**
 * The PDF with a detached signature over all of it appended (ISO 32000-1, 12.8: an incremental update with a signature field that is not seen, `adbe.pkcs7.detached`); what was
 * there stays as it was, byte for byte. `signedAt` is what the signature says of its time.
 * @throws `ProofwalkError` `key-unusable` where the key file cannot be opened or used
 */
export async function signPdf(pdf: Uint8Array, key: SigningKey, signedAt: Date): Promise<Uint8Array> {
  const prepared = withSignatureField(Buffer.from(pdf), signedAt)
  const open = prepared.lastIndexOf('/Contents <') + '/Contents '.length
  const close = open + 2 * MOST_SIGNATURE_BYTES + 2
  const range = `/ByteRange [0 ${open} ${close} ${prepared.length - close}]`.padEnd(RANGE_PLACE.length)
  prepared.write(range, prepared.lastIndexOf(RANGE_PLACE), 'latin1')
  let signature: Buffer
  try {
    const signer = new P12Signer(Buffer.from(key.bytes), { passphrase: key.passphrase })
    signature = await signer.sign(
      Buffer.concat([prepared.subarray(0, open), prepared.subarray(close)]),
      signedAt,
    )
  } catch (error) {
    throw fault(sheetSays['key-unusable'](error instanceof Error ? error.message : String(error)), {
      file: key.file,
    })
  }
  if (signature.length > MOST_SIGNATURE_BYTES)
    throw fault(sheetSays['key-unusable']('its certificates are too long'), { file: key.file })
  prepared.write(signature.toString('hex'), open + 1, 'latin1')
  return new Uint8Array(prepared)
}

/** The file with an empty signature: its dictionary, a field nobody sees on the first page, and the catalogue that knows of it. */
function withSignatureField(pdf: Buffer, signedAt: Date): Buffer {
  const { offsets, trailer, startxref } = lastSection(pdf)
  const objectAt = (index: number): string => {
    const from = offsets.get(index)!
    return pdf.toString('latin1', from, pdf.indexOf('endobj', from))
  }
  const reference = (text: string, key: string): number =>
    Number(new RegExp(`/${key} \\[?\\s*(\\d+) 0 R`).exec(text)![1])
  const root = reference(trailer, 'Root')
  const page = reference(objectAt(reference(objectAt(root), 'Pages')), 'Kids')
  const size = Number(/\/Size (\d+)/.exec(trailer)![1])
  const [signature, field] = [size, size + 1]
  const time = signedAt.toISOString().replace(/[-:T]/g, '').slice(0, 14)
  const contents = `<${'0'.repeat(2 * MOST_SIGNATURE_BYTES)}>`
  const objects = new Map<number, string>([
    [root, added(objectAt(root), `/AcroForm << /Fields [${field} 0 R] /SigFlags 3 >>`)],
    [page, withAnnotation(objectAt(page), `${field} 0 R`)],
    [
      signature,
      `${signature} 0 obj\n<< /Type /Sig /Filter /Adobe.PPKLite /SubFilter /adbe.pkcs7.detached ${RANGE_PLACE} /Contents ${contents} /M (D:${time}Z) >>\n`,
    ],
    [
      field,
      `${field} 0 obj\n<< /Type /Annot /Subtype /Widget /FT /Sig /T (Signature) /F 132 /Rect [0 0 0 0] /P ${page} 0 R /V ${signature} 0 R >>\n`,
    ],
  ])
  let out = pdf.toString('latin1')
  const rows: string[] = []
  for (const [index, text] of objects) {
    rows.push(`${index} 1\n${String(out.length).padStart(10, '0')} 00000 n \n`)
    out += `${text}endobj\n`
  }
  const kept = trailer.replace(/\/Size \d+/, `/Size ${size + 2}`).replace(/>>\s*$/, `/Prev ${startxref}\n>>`)
  out += `xref\n${rows.join('')}trailer\n${kept}\nstartxref\n${out.length}\n%%EOF\n`
  return Buffer.from(out, 'latin1')
}

/** The plain table of references that the drawing library writes, its trailer, and where it begins. */
function lastSection(pdf: Buffer): { offsets: Map<number, number>; trailer: string; startxref: number } {
  const end = pdf.toString('latin1', pdf.lastIndexOf('startxref'))
  const startxref = Number(/startxref\s+(\d+)/.exec(end)![1])
  const [table = '', trailer = ''] = pdf
    .toString('latin1', startxref, pdf.lastIndexOf('startxref'))
    .split('trailer')
  const rows = table.match(/^\d{10} \d{5} [nf]/gm) ?? []
  return {
    offsets: new Map(rows.map((row, index) => [index, Number(row.slice(0, 10))])),
    trailer: trailer.trim(),
    startxref,
  }
}

function added(object: string, entry: string): string {
  const at = object.lastIndexOf('>>')
  return `${object.slice(0, at)}${entry}\n${object.slice(at)}`
}

function withAnnotation(page: string, reference: string): string {
  if (!page.includes('/Annots [')) return added(page, `/Annots [${reference}]`)
  return page.replace('/Annots [', `/Annots [${reference} `)
}
