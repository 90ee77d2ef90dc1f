import { beforeAll, describe, expect, it } from 'vitest'
import { signPdf } from '../../../src/sheet/document/signPdf.js'
import { readSignature } from '../../../src/sheet/verify/readSignature.js'
import { verifySheet } from '../../../src/sheet/verify/verifySheet.js'
import { writeSheet } from '../../../src/sheet/acceptance/writeSheet.js'
import type { VerificationCheck } from '../../../src/walk/site/verification.js'
import { signingKeyFile } from '../../support/signingKey.js'
import { inventedResults } from '../inventedResults.js'
import { hasPoppler, poppler } from '../poppler.js'
import { sheetInputOf } from '../sheetOf.js'

const AT = new Date('2026-03-15T10:00:00Z')
const KEY = {
  file: 'key.p12',
  bytes: signingKeyFile('Ada Example', 'open sesame'),
  passphrase: 'open sesame',
}

let plain: Uint8Array
let signed: Uint8Array

beforeAll(async () => {
  plain = await writeSheet(await sheetInputOf(inventedResults({})))
  signed = await signPdf(plain, KEY, AT)
}, 120_000)

/** The sheet with one byte turned over, counted from an end. */
function changed(at: number): Uint8Array {
  const bytes = new Uint8Array(signed)
  bytes[at < 0 ? bytes.length + at : at]! ^= 1
  return bytes
}

async function signatureCheck(bytes: Uint8Array): Promise<VerificationCheck | undefined> {
  const { checks } = await verifySheet(bytes, 'sheet.pdf')
  return checks.find(({ what }) => what === 'sheet.pdf: its signature')
}

describe('a signed sheet', () => {
  it('holds the sheet as it was, byte for byte, and is the same for the same key and time', async () => {
    expect(Buffer.from(signed.subarray(0, plain.length)).equals(Buffer.from(plain))).toBe(true)
    expect(Buffer.from(await signPdf(plain, KEY, AT)).equals(Buffer.from(signed))).toBe(true)
    const read = await readSignature(signed)
    expect(Buffer.from(read!.signed).equals(Buffer.from(plain))).toBe(true)
  })

  it('says by whom, and all that was attached and printed still belongs to it', async () => {
    const { checks } = await verifySheet(signed, 'sheet.pdf')
    const other = (await verifySheet(plain, 'sheet.pdf')).checks
    expect(checks.filter(({ what }) => what !== 'sheet.pdf: its signature')).toEqual(other)
    const check = await signatureCheck(signed)
    expect(check?.matches).toBe(true)
    expect(check?.message).toMatch(
      /^signed by O=Invented Survey, CN=Ada Example, and nothing has changed since\. /,
    )
    expect(check?.message).toContain('The signer made the certificate')
  })

  it.each([2000, -33_500, -200])('tells a byte changed at %i, and what was appended', async (at) => {
    expect((await signatureCheck(changed(at)))?.matches).toBe(false)
    const appended = new Uint8Array(Buffer.concat([signed, Buffer.from('\n% more\n')]))
    expect(await signatureCheck(appended)).toMatchObject({
      matches: false,
      message: 'signed by O=Invented Survey, CN=Ada Example, and changed since',
    })
  })

  it('is no other one with the signature of this one', async () => {
    const other = await writeSheet(await sheetInputOf(inventedResults({ site: 'Elsewhere' })))
    const forged = new Uint8Array(Buffer.concat([other, signed.subarray(plain.length)]))
    expect((await signatureCheck(forged))?.matches).toBe(false)
  })

  it('is refused for a wrong passphrase or what is no key, in one line', async () => {
    await expect(signPdf(plain, { ...KEY, passphrase: 'wrong' }, AT)).rejects.toMatchObject({
      code: 'key-unusable',
      exitStatus: 2,
      place: { file: 'key.p12' },
    })
    await expect(signPdf(plain, { ...KEY, bytes: plain }, AT)).rejects.toMatchObject({ code: 'key-unusable' })
  })

  it('without a signature says nothing of one', async () => {
    expect(await readSignature(plain)).toBeNull()
    expect(await signatureCheck(plain)).toBeUndefined()
  })
})

describe.skipIf(!hasPoppler())(
  'a signed sheet to poppler (skipped only where poppler is not installed)',
  () => {
    it('is valid and covers the whole file, and is not after a byte was changed', () => {
      const told = poppler('pdfsig', ['-nocert', 'FILE'], signed)
      expect(told).toContain('Signer Certificate Common Name: Ada Example')
      expect(told).toContain('Signature Type: adbe.pkcs7.detached')
      expect(told).toContain('Total document signed')
      expect(told).toContain('Signature Validation: Signature is Valid.')
      expect(poppler('pdfsig', ['-nocert', 'FILE'], changed(2000))).toContain('Digest Mismatch')
    })

    it('stays PDF/A-3a, tagged, with all that is attached', () => {
      const info = poppler('pdfinfo', ['FILE'], signed)
      expect(info).toMatch(/^Tagged: +yes/m)
      const meta = poppler('pdfinfo', ['-meta', 'FILE'], signed)
      expect(meta).toContain('<pdfaid:part>3</pdfaid:part>')
      expect(meta).toBe(poppler('pdfinfo', ['-meta', 'FILE'], plain))
      expect(poppler('pdfinfo', ['-struct', 'FILE'], signed)).toBe(
        poppler('pdfinfo', ['-struct', 'FILE'], plain),
      )
      expect(poppler('pdfdetach', ['-list', 'FILE'], signed)).toBe(
        poppler('pdfdetach', ['-list', 'FILE'], plain),
      )
    })
  },
)
