import { ProofwalkError } from '../../errors.js'
import { attachedWalk } from '../../walk/site/attachedWalk.js'
import { judgedChecks } from '../../walk/site/judgedChecks.js'
import { sha256Of } from '../../files/fileSha256.js'
import { jsonOrNull } from '../../files/readInnerFile.js'
import { pickOfEntry, picksSchema } from '../../walk/schemas/picksSchema.js'
import { METHOD_VERSION } from '../../measure/stillMeasurement.js'
import { type ResultsHashes, resultsHashesSchema } from '../../walk/schemas/resultsHashes.js'
import { resultsSchema } from '../../walk/schemas/resultsSchema.js'
import {
  leftOut,
  matching,
  notChecked,
  notMatching,
  type VerificationCheck,
} from '../../walk/site/verification.js'
import { escaped, LINE_ENDS } from '../../files/oneLine.js'
import { type PdfSignature, readSignature } from './readSignature.js'
import { readSheetPdf, type SheetPdf } from './readSheetPdf.js'
import { PRODUCER } from '../document/openDocument.js'
import { siteSays } from '../../walk/site/sentences.js'
import { sheetSays } from '../sentences.js'
import { sealState } from '../input/seal.js'
import { type SheetFigure, sheetFigures } from './sheetFigures.js'

/** A sheet held against itself: its checks, and its attachments for who holds them against a folder. */
export interface VerifiedSheet {
  readonly checks: readonly VerificationCheck[]
  /** Which of its walk's files it says it was written with. */
  readonly attach: SheetPdf['attach']
  readonly attachments: ReadonlyMap<string, Uint8Array>
}

/**
 * Whether a sheet's file is the one that was written, and whether what is attached to it and what is printed on it belong together; the sheet of another method or
 * release is held to its hashes alone. `file` is how it is named in the checks; `judged` are the bytes of results that were judged again already and stood, with the walk they name.
 * @throws `ProofwalkError` `not-a-pdf` where it cannot be read at all
 */
export async function verifySheet(
  bytes: Uint8Array,
  file: string,
  judged: Uint8Array | null = null,
): Promise<VerifiedSheet> {
  const signature = await readSignature(bytes)
  // A signature is added to a sheet that was sealed by its hash.
  const sealedBytes = signature?.signed ?? bytes
  const seal = sealCheck(sealedBytes, file)
  const seals = [seal, ...signatureCheck(signature, file)]
  let pdf: SheetPdf
  try {
    pdf = await readSheetPdf(bytes, file)
  } catch (error) {
    // A sheet that was ours and cannot be read any more is told as one that does not match.
    if (seal.matches || sealState(sealedBytes) === 'none') throw error
    return { checks: seals, attach: 'all', attachments: new Map() }
  }
  const { attachments, attach } = pdf
  if (attach === 'none' && attachments.size === 0)
    return {
      checks: [...seals, leftOut(`${file}: results.json`, sheetSays['nothing-to-judge']())],
      attach,
      attachments,
    }
  const contents = jsonOrNull(attachments.get('results.json') ?? new Uint8Array())
  const hashes = resultsHashesSchema.safeParse(contents)
  if (!hashes.success) {
    const said = sheetSays['no-results-attached']()
    return { checks: [...seals, notMatching(`${file}: results.json`, said)], attach, attachments }
  }
  const attached = attachmentChecks(hashes.data, pdf, file)
  const isJudged =
    judged !== null &&
    Buffer.compare(judged, attachments.get('results.json')!) === 0 &&
    attached.every(({ matches }) => matches === true)
  return {
    checks: [
      seals,
      ...attached,
      figuresCheck(contents, hashes.data.method, pdf, file),
      await judgedCheck(contents, pdf, file, isJudged),
    ].flat(),
    attach,
    attachments,
  }
}

function sealCheck(bytes: Uint8Array, file: string): VerificationCheck {
  const state = sealState(bytes)
  if (state === 'holds') return matching(file, sheetSays['seal-holds']())
  return notMatching(file, sheetSays[state === 'broken' ? 'seal-broken' : 'no-seal']())
}

function signatureCheck(signature: PdfSignature | null, file: string): VerificationCheck[] {
  if (signature === null) return []
  const { by, holds, coversAll } = signature
  const what = `${file}: its signature`
  if (by === null) return [notMatching(what, sheetSays['signature-unreadable']())]
  if (!holds || !coversAll) return [notMatching(what, sheetSays['signed-and-changed'](by.subject))]
  return [matching(what, sheetSays['signed-by'](by.subject, by.issuer, by.isOwnIssuer))]
}

function attachmentChecks(results: ResultsHashes, pdf: SheetPdf, file: string): VerificationCheck[] {
  const { attachments } = pdf
  const checks = [
    hashCheck('walk.yaml', [results.inputs.walk, results.inputs.walkPlain], pdf, file),
    hashCheck('picks.json', [results.inputs.picks], pdf, file),
  ]
  return [...checks, ...pickChecks(results, attachments.get('picks.json'), file)]
}

function hashCheck(
  name: string,
  hashes: readonly (string | null)[],
  { attachments, attach }: SheetPdf,
  file: string,
): VerificationCheck {
  const bytes = attachments.get(name)
  const what = `${file}: ${name}`
  if (bytes === undefined && attach !== 'all') return leftOut(what, sheetSays['left-out']())
  if (bytes === undefined)
    return hashes[0] === null
      ? matching(what, sheetSays['none-to-attach']())
      : notMatching(what, sheetSays['not-attached']())
  if (hashes.includes(sha256Of(bytes))) return matching(what, sheetSays.attached())
  return notMatching(what, sheetSays['another-attached']())
}

/** Whether the picks attached were taken on the stills that were measured. */
function pickChecks(
  results: ResultsHashes,
  bytes: Uint8Array | undefined,
  file: string,
): VerificationCheck[] {
  if (bytes === undefined) return []
  const picks = picksSchema.safeParse(jsonOrNull(bytes))
  if (!picks.success) return [notMatching(`${file}: picks.json`, sheetSays['picks-unreadable']())]
  return results.stills.flatMap((still) => {
    const pick = pickOfEntry(picks.data, still)
    return pick === undefined || still.method !== 'picks' || pick.sha256 === still.sha256
      ? []
      : [notMatching(`${file}: ${still.file}`, sheetSays['picked-on-another']())]
  })
}

/** What is printed, held against the results attached: every figure in its order, as this release prints it. */
function figuresCheck(
  contents: unknown,
  method: string,
  { text, producer }: SheetPdf,
  file: string,
): VerificationCheck[] {
  const what = `${file}: what is printed`
  if (method !== METHOD_VERSION) return [notChecked(what, method)]
  if (producer !== PRODUCER) return [notChecked(what, `${method} of another release`)]
  const results = resultsSchema.safeParse(contents)
  if (!results.success)
    return [notMatching(`${file}: results.json`, sheetSays['results-of-another-release']())]
  const printed = squeezed(text)
  const figures = sheetFigures(results.data)
  let at = 0
  const missing = figures.filter(({ texts }) => {
    const found = placeAfter(printed, texts, at)
    if (found !== null) at = found
    return found === null
  })
  if (missing.length === 0) return [matching(what, sheetSays['figures-printed'](figures.length))]
  return missing.map((figure: SheetFigure) =>
    notMatching(`${file}: ${figure.what}`, sheetSays['figure-not-printed']()),
  )
}

/** Whether the results attached follow from their stills' own entries, judged again with the walk and picks attached, by the release that wrote them. */
async function judgedCheck(
  contents: unknown,
  { producer, attachments }: SheetPdf,
  file: string,
  isJudged: boolean,
): Promise<VerificationCheck[]> {
  const walkYaml = attachments.get('walk.yaml')
  if (producer !== PRODUCER || walkYaml === undefined) return []
  const what = `${file}: results.json`
  if (isJudged) return [matching(what, siteSays['judged-again']())]
  const results = resultsSchema.safeParse(contents)
  if (!results.success) return []
  try {
    const walk = await attachedWalk(results.data, walkYaml, attachments.get('picks.json') ?? null)
    return await judgedChecks(contents, { what, ...walk, except: ({ path }) => NOT_ATTACHED.test(path) })
  } catch (error) {
    if (!(error instanceof ProofwalkError)) throw error
    return [notMatching(what, sheetSays['not-judged-again'](error.message))]
  }
}

/** Files that were not measured: why, a sheet alone cannot tell. */
const NOT_ATTACHED = /^(failed|unassigned)\b/

/** Where a figure's texts end that stand in their order after a place; null where they do not. A text cut short on the page ends in an ellipsis. */
function placeAfter(printed: string, texts: readonly string[], from: number): number | null {
  let at = from
  for (const text of texts) {
    const wanted = squeezed(text)
    const whole = printed.indexOf(wanted, at)
    if (whole >= 0) {
      at = whole + wanted.length
      continue
    }
    const cut = cutPlace(printed, wanted, at)
    if (cut === null) return null
    at = cut
  }
  return at
}

const LEAST_CUT = 12

function cutPlace(printed: string, wanted: string, from: number): number | null {
  for (let length = wanted.length - 1; length >= LEAST_CUT; length -= 1) {
    const cut = `${wanted.slice(0, length)}…`
    const place = printed.indexOf(cut, from)
    if (place >= 0) return place + cut.length
  }
  return null
}

/** Text without its spaces, and signs in their plain form: what is left of a text once it was broken into lines and drawn. */
function squeezed(text: string): string {
  return escaped(text.replace(LINE_ENDS, ' ')).normalize('NFKC').replace(/\s+/g, '').replaceAll('...', '…')
}
