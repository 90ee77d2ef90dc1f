import { createVerify, X509Certificate } from 'node:crypto'
import { sha256Of } from '../../files/fileSha256.js'

/** What a signed PDF says of its signer, and whether that holds. */
export interface PdfSignature {
  /** The certificate's subject and issuer in one line each; null where the signature cannot be read. */
  readonly by: { readonly subject: string; readonly issuer: string; readonly isOwnIssuer: boolean } | null
  /** Whether the signature is that of the certificate's key over the bytes it covers. */
  readonly holds: boolean
  /** Whether it covers every byte of the file. */
  readonly coversAll: boolean
  /** The file as it was before it was signed. */
  readonly signed: Uint8Array
}

/**
 * The last signature of a PDF; null where there is none. It is held to the certificate it carries: whether that certificate is to be believed is not looked up.
 */
export async function readSignature(bytes: Uint8Array): Promise<PdfSignature | null> {
  const pdf = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const at = pdf.lastIndexOf('/ByteRange [0 ')
  if (at < 0) return null
  const numbers = /^\/ByteRange \[0 (\d+) (\d+) (\d+)\s*\]/.exec(pdf.toString('latin1', at, at + 60))
  const before = pdf.lastIndexOf('%%EOF', at)
  const signed = new Uint8Array(pdf.subarray(0, before < 0 ? 0 : before + '%%EOF\n'.length))
  if (numbers === null) return { by: null, holds: false, coversAll: false, signed }
  const [open, close, length] = numbers.slice(1).map(Number) as [number, number, number]
  const coversAll = close + length === pdf.length && open < close
  const covered = Buffer.concat([pdf.subarray(0, open), pdf.subarray(close, close + length)])
  const read = await checked(pdf.toString('latin1', open + 1, close - 1), covered).catch(() => null)
  return { by: read?.by ?? null, holds: read?.holds ?? false, coversAll, signed }
}

/** The parts of a CMS message (RFC 5652) as the library reads them. */
interface SignedMessage {
  readonly certificates: readonly { readonly serialNumber: string }[]
  readonly rawCapture: {
    readonly signature: string
    readonly serial: string
    readonly authenticatedAttributes: readonly object[]
  }
}

async function checked(hex: string, covered: Buffer): Promise<Pick<PdfSignature, 'by' | 'holds'>> {
  const { default: forge } = await import('node-forge')
  const { asn1, pkcs7, pki } = forge
  const der = forge.util.createBuffer(Buffer.from(hex, 'hex').toString('latin1'))
  const message = pkcs7.messageFromAsn1(
    asn1.fromDer(der, { parseAllBytes: false } as never),
  ) as unknown as SignedMessage
  const { rawCapture } = message
  const serial = Buffer.from(rawCapture.serial, 'latin1').toString('hex')
  const own =
    message.certificates.find(({ serialNumber }) => serialNumber === serial) ?? message.certificates[0]
  const certificate = new X509Certificate(pki.certificateToPem(own as never))
  // What is signed are the attributes as a SET (RFC 5652, 5.4), one of which is the hash of the file.
  const attributes = asn1.create(
    asn1.Class.UNIVERSAL,
    asn1.Type.SET,
    true,
    rawCapture.authenticatedAttributes as never,
  )
  const isSigned = createVerify('sha256')
    .update(Buffer.from(asn1.toDer(attributes).getBytes(), 'latin1'))
    .verify(certificate.publicKey, Buffer.from(rawCapture.signature, 'latin1'))
  const digest = Buffer.from(sha256Of(covered), 'hex').toString('latin1')
  const isOfFile = rawCapture.authenticatedAttributes.some((one) =>
    isDigest(one, digest, asn1.derToOid, pki.oids['messageDigest']!),
  )
  const by = {
    subject: named(certificate.subject),
    issuer: named(certificate.issuer),
    isOwnIssuer: certificate.subject === certificate.issuer,
  }
  return { by, holds: isSigned && isOfFile }
}

interface Asn1 {
  readonly value: string | readonly Asn1[]
}

function isDigest(attribute: object, digest: string, oidOf: (der: never) => string, wanted: string): boolean {
  const [oid, set] = (attribute as Asn1).value as readonly Asn1[]
  return oidOf(oid!.value as never) === wanted && (set!.value as readonly Asn1[])[0]?.value === digest
}

/** A name of a certificate in one line: "CN=Ada, O=Survey". */
function named(text: string): string {
  return text.split('\n').reverse().join(', ')
}
