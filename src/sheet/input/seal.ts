import { sha256Of } from '../../files/fileSha256.js'

const NAMESPACE = 'http://proofwalk.invalid/ns/sheet/1/'
const DIGITS = 64
const OPEN = '<proofwalk:sha256>'
const CLOSE = '</proofwalk:sha256>'

/**
 * What a sheet's XMP packet says of the whole file: a field for its SHA-256, with the description PDF/A asks for of a field of one's own (ISO 19005-3, 6.6.2.3).
 * It is written as noughts and filled in by `sealed`.
 */
export const SEAL_XML = `
        <rdf:Description rdf:about="" xmlns:proofwalk="${NAMESPACE}">
            ${OPEN}${'0'.repeat(DIGITS)}${CLOSE}
        </rdf:Description>
        <rdf:Description rdf:about="" xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/" xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#" xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">
            <pdfaExtension:schemas>
                <rdf:Bag>
                    <rdf:li rdf:parseType="Resource">
                        <pdfaSchema:schema>Proofwalk sheet</pdfaSchema:schema>
                        <pdfaSchema:namespaceURI>${NAMESPACE}</pdfaSchema:namespaceURI>
                        <pdfaSchema:prefix>proofwalk</pdfaSchema:prefix>
                        <pdfaSchema:property>
                            <rdf:Seq>
                                <rdf:li rdf:parseType="Resource">
                                    <pdfaProperty:name>sha256</pdfaProperty:name>
                                    <pdfaProperty:valueType>Text</pdfaProperty:valueType>
                                    <pdfaProperty:category>internal</pdfaProperty:category>
                                    <pdfaProperty:description>SHA-256 of this file in hexadecimal, taken with this field as 64 noughts</pdfaProperty:description>
                                </rdf:li>
                            </rdf:Seq>
                        </pdfaSchema:property>
                    </rdf:li>
                </rdf:Bag>
            </pdfaExtension:schemas>
        </rdf:Description>
        `

/** What a file's own hash says of it. */
export type SealState = 'holds' | 'broken' | 'none'

/**
 * The file with its own SHA-256 in the field that was noughts.
 * @throws Error where the field is not there once
 */
export function sealed(bytes: Uint8Array): Uint8Array {
  const at = sealPlace(bytes)
  if (at === null) throw new Error('the sheet has no place for its hash')
  const whole = Buffer.from(bytes)
  whole.write(hashWithout(whole, at), at, 'latin1')
  return new Uint8Array(whole)
}

/** Whether every byte of a file is the one it was sealed with. */
export function sealState(bytes: Uint8Array): SealState {
  const at = sealPlace(bytes)
  if (at === null) return 'none'
  const said = Buffer.from(bytes.buffer, bytes.byteOffset + at, DIGITS).toString('latin1')
  return said === hashWithout(bytes, at) ? 'holds' : 'broken'
}

function hashWithout(bytes: Uint8Array, at: number): string {
  const blank = Buffer.from(bytes)
  blank.fill('0', at, at + DIGITS, 'latin1')
  return sha256Of(blank)
}

/** Where the field's digits begin; null where there is no such field, or several. */
function sealPlace(bytes: Uint8Array): number | null {
  const whole = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  const open = whole.indexOf(OPEN, 0, 'latin1')
  if (open < 0 || whole.indexOf(OPEN, open + 1, 'latin1') >= 0) return null
  const at = open + OPEN.length
  return whole.toString('latin1', at + DIGITS, at + DIGITS + CLOSE.length) === CLOSE ? at : null
}
