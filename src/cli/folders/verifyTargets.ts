import { plainYaml } from '../../files/plainYaml.js'
import { readFile, stat } from 'node:fs/promises'
import { join, resolve } from 'node:path'
import { escaped, oneLine } from '../../files/oneLine.js'
import { fault } from '../../sentences.js'
import { cliSays } from '../sentences.js'
import type { VerifiedSheet } from '../../sheet/verify/verifySheet.js'
import { matching, notMatching, type VerificationCheck } from '../../walk/site/verification.js'
import { verifyFiles } from '../../walk/site/verifyFiles.js'
import { linesOfKinds } from '../terminal/manyOfAKind.js'
import { progressLine } from '../terminal/progressLine.js'
import { shellWord } from '../terminal/shellWord.js'
import type { Terminal } from '../terminal/terminal.js'

/** How `verify` is asked for. */
export interface VerifyOptions {
  /** False where `--no-scene` is given. */
  readonly scene: boolean
  readonly json?: true
  readonly deep?: true
  readonly workers?: number
}

/** What judging again takes as the results have it. */
const NOT_MEASURED =
  'that corners found on a chart, sharpness, tone and what was remarked of the pixels are those of the stills: verify --deep measures them again'

/** What neither hashes nor signatures can show: printed whatever the outcome. */
const NOT_SHOWN = 'that a still left the camera unaltered: the hashes begin where the stills were measured'
const NOT_SHOWN_OF_UNSIGNED =
  'who made these files, or when: whoever can write them can write their hashes (proofwalk help sealing)'
const NOT_SHOWN_OF_SIGNED =
  "whose the certificate is, and when it was signed: that is the certificate's own word, and the signer's clock (proofwalk help sealing)"

/** One of the targets with what was held against what. */
interface Verified {
  readonly target: string
  readonly isFolder: boolean
  readonly checks: readonly VerificationCheck[]
}

/**
 * Verifies walks' folders and sheets, and whether two of the folders show one picture or one scene; prints what belongs together and names what does not, and sets the exit status.
 * @throws `ProofwalkError` `option-out-of-place` where a sheet alone is to be measured again, and where there is nothing to verify
 */
export async function verifyTargets(
  targets: readonly string[],
  options: VerifyOptions,
  terminal: Terminal,
): Promise<void> {
  const each = [...new Map(targets.map((target) => [resolve(target), target])).values()]
  const kinds = await Promise.all(each.map(kindOf))
  if (kinds.includes(false) && options.deep === true)
    throw fault(cliSays['option-out-of-place']('for-a-folder'), { field: '--deep' })
  const verified: Verified[] = []
  for (const [index, target] of each.entries()) {
    const isFolder = kinds[index]!
    const checks = isFolder
      ? await folderChecks(target, options, terminal)
      : (await sheetChecks(target, target, null)).checks
    verified.push({ target, isFolder, checks })
  }
  const folders = verified.filter(({ isFolder }) => isFolder).map(({ target }) => target)
  const between = folders.length < 2 ? [] : await betweenFolders(folders, options.scene)
  const checks = [...verified.flatMap((one) => one.checks), ...between]
  const matches = isWell(checks)
  const isSigned = checks.some(({ what, matches }) => what.endsWith(': its signature') && matches === true)
  const doesNotShow = [
    isSigned ? NOT_SHOWN_OF_SIGNED : NOT_SHOWN_OF_UNSIGNED,
    NOT_SHOWN,
    ...(options.deep === true ? [] : [NOT_MEASURED]),
  ]
  if (options.json === true) {
    const plain = verified.map(({ target, checks }) => ({ target, matches: isWell(checks), checks }))
    const all = plain.length === 1 ? plain[0] : { matches, targets: plain, between }
    terminal.out(`${JSON.stringify({ ...all, doesNotShow }, null, 2)}\n`)
  } else terminal.out(report(verified, between, doesNotShow))
  terminal.setStatus(matches ? 0 : 1)
}

async function betweenFolders(dirs: readonly string[], looked: boolean): Promise<VerificationCheck[]> {
  const { verifyBetween } = await import('../../walk/site/verifyBetween.js')
  return verifyBetween(dirs, looked)
}

async function kindOf(target: string): Promise<boolean> {
  try {
    const facts = await stat(target)
    if (facts.isDirectory()) return true
    if (facts.isFile()) return false
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'EACCES')
      throw fault(cliSays.unreadable(null), { file: target })
  }
  throw fault(cliSays['no-folder-or-sheet'](), { file: target })
}

async function sheetChecks(path: string, name: string, judged: Uint8Array | null): Promise<VerifiedSheet> {
  const { verifySheet } = await import('../../sheet/verify/verifySheet.js')
  let bytes: Buffer
  try {
    bytes = await readFile(path)
  } catch (error) {
    const reason = (error as NodeJS.ErrnoException).code ?? (error as Error).message
    throw fault(cliSays.unreadable(reason), { file: path })
  }
  return verifySheet(bytes, name, judged)
}

async function folderChecks(
  dir: string,
  { deep, workers }: VerifyOptions,
  terminal: Terminal,
): Promise<VerificationCheck[]> {
  const progress = progressLine(terminal, 'measuring again')
  const { checks, files } = await verifyFiles(
    dir,
    deep === true ? { workers: workers ?? null, onProgress: progress.show } : null,
  )
  progress.clear()
  const path = join(dir, 'sheet.pdf')
  const isThere = await stat(path).then(
    (facts) => facts.isFile(),
    () => false,
  )
  if (!isThere) {
    return [...checks, matching('results.json', cliSays['no-sheet-beside']())]
  }
  const stands = checks.some(({ what, matches }) => what === 'results.json' && matches === true)
  const results = files.get('results.json') ?? null
  const sheet = await sheetChecks(path, 'sheet.pdf', stands ? results : null)
  return [...checks, ...sheet.checks, ...attachedChecks(sheet, files)]
}

/** The folder's own files against those attached to its sheet, byte for byte. */
function attachedChecks(
  { attachments, attach }: VerifiedSheet,
  files: ReadonlyMap<string, Uint8Array | null>,
): VerificationCheck[] {
  if (attachments.size === 0) return []
  return [...files].flatMap(([name, bytes]) => {
    const attached = attachments.get(name)
    // That it was left out, the sheet's own checks say.
    if (attached === undefined && attach !== 'all') return []
    if (bytes === null && attached === undefined) return matching(name, cliSays['on-neither']())
    const same = bytes !== null && attached !== undefined && isAttached(name, bytes, attached)
    return same ? matching(name, cliSays.attached()) : notMatching(name, cliSays['not-attached']())
  })
}

/** Whether a file is the one attached, byte for byte; walk.yaml with or without its comments. */
function isAttached(name: string, bytes: Uint8Array, attached: Uint8Array): boolean {
  if (Buffer.compare(bytes, attached) === 0) return true
  return (
    name === 'walk.yaml' &&
    plainYaml(Buffer.from(bytes).toString('utf8')) === Buffer.from(attached).toString('utf8')
  )
}

function report(
  verified: readonly Verified[],
  between: readonly VerificationCheck[],
  doesNotShow: readonly string[],
): string {
  const all = verified.map(({ target, checks }) => `${headOf(target, checks)}${linesOf(checks)}`)
  if (between.length > 0) all.push(`Between the walks\n${linesOf(between)}`)
  const limits = `What this does not show\n${doesNotShow.map((limit) => `  ${limit}\n`).join('')}`
  return `${[...all, limits].join('\n')}Next: ${nextOf(verified, between)}\n`
}

function headOf(target: string, checks: readonly VerificationCheck[]): string {
  const wrong = checks.filter(({ matches }) => matches === false)
  return wrong.length === 0
    ? `${target}: everything belongs together\n`
    : `${target}: ${wrong.length} of ${checks.length} do not belong together with the rest\n`
}

function linesOf(checks: readonly VerificationCheck[]): string {
  const line = ({ what, message, matches }: VerificationCheck): string =>
    `  ${matches === null ? '        ' : matches ? 'belongs ' : 'does not'}  ${escaped(what)}: ${oneLine(message, Infinity)}`
  const stills = checks.filter(({ what, matches }) => matches === true && what.startsWith('stills/'))
  const told = checks.filter((check) => !stills.includes(check))
  const lines = linesOfKinds(told, ({ matches, message }) => `${matches} ${message}`, line)
  const many =
    stills.length === 0
      ? ''
      : `  belongs   ${stills.length} ${stills.length === 1 ? 'still' : 'stills'}, as measured\n`
  return `${many}${lines.map((one) => `${one}\n`).join('')}`
}

function nextOf(verified: readonly Verified[], between: readonly VerificationCheck[]): string {
  const { target, isFolder, checks } = verified.find((one) => !isWell(one.checks)) ?? verified[0]!
  const walk = shellWord(target)
  if (!isWell(checks))
    return isFolder
      ? `put back what was changed, or proofwalk sheet ${walk} to measure and print it again`
      : 'ask for the file as it was handed over'
  if (!isWell(between)) return 'look at the stills named, and ask which camera took them'
  if (verified.length > 1) return `proofwalk summary ${walk} ...`
  if (!isFolder) return 'keep the file as it is; a copy that was printed and scanned cannot be verified'
  const hasSheet = checks.some(({ what }) => what === 'sheet.pdf')
  return hasSheet
    ? `walk again in a year, then proofwalk compare ${walk} with that walk`
    : `proofwalk sheet ${walk}`
}

function isWell(checks: readonly VerificationCheck[]): boolean {
  return checks.every(({ matches }) => matches !== false)
}
