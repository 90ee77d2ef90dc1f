import { fault } from '../../sentences.js'
import { cliSays } from '../sentences.js'
import { eachFolder } from '../terminal/eachFolder.js'
import { shellWord } from '../terminal/shellWord.js'
import type { Terminal } from '../terminal/terminal.js'
import { readFile } from 'node:fs/promises'
import { ProofwalkError } from '../../errors.js'
import { readOrdinaryFile } from '../../files/readOrdinaryFile.js'
import { join } from 'node:path'
import type { SigningKey } from '../../sheet/document/signPdf.js'
import type { PaperName, SheetAttach } from '../../sheet/input/sheetInput.js'
import { walkSheet } from '../../sheet/acceptance/walkSheet.js'
import { masksAsBefore } from '../../sheet/verify/maskingBefore.js'
import type { SheetSetting, Walk } from '../../walk/read/walk.js'
import { readWalk } from '../../walk/read/readWalk.js'
import { writeWhole } from '../../files/writeWhole.js'
import { expectNoOtherFile } from '../../files/expectNoOtherFile.js'
import { openCommand } from '../terminal/openCommand.js'
import { nextLine } from '../measure/measureFolder.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { resultsFor } from '../measure/resultsFor.js'

/** The options of `sheet`, as typed. */
export interface SheetOptions {
  readonly out?: string
  readonly paper?: PaperName
  readonly maskPlates?: true
  readonly mask?: readonly ('plates' | 'people' | 'none')[]
  readonly attach?: SheetAttach
  readonly workers?: number
  readonly sign?: string
  readonly passphraseFile?: string
}

/** Writes the acceptance sheet of a walk's folder whole, measuring first where the results do not belong to it, and says where it lies. */
export async function sheetFolder(dir: string, options: SheetOptions, terminal: Terminal): Promise<void> {
  const { file, results, told } = await writeSheetOf(dir, options, terminal)
  const next =
    results.stills.length === 0 ? nextLine(dir, results) : `Next: ${openCommand(file, process.platform)}`
  terminal.out(`${told}${next}\n`)
  terminal.setStatus(0)
}

/** Writes the sheet of one folder; `told`: its file, and whether it shows nothing. `called` stands before what is said on standard error. */
async function writeSheetOf(
  dir: string,
  options: SheetOptions,
  terminal: Terminal,
  called = '',
): Promise<{ file: string; results: WalkResults; told: string }> {
  const walk = await readWalk(dir)
  const file = options.out ?? join(dir, 'sheet.pdf')
  await expectNoOtherFile(file, '--out')
  const key = options.sign === undefined ? null : await signingKey(options.sign, options.passphraseFile)
  const results = await resultsFor(walk, options.workers ?? null, terminal, { called })
  const setting = settingOf(walk, options)
  const masks = await masksAsBefore(file, setting)
  if (!masks.ok) terminal.err(`${file}: ${masks.message}\n`)
  const sheet = await walkSheet(walk, results, {
    ...setting,
    ...(options.attach === undefined ? {} : { attach: options.attach }),
  })
  await writeWhole(file, key === null ? sheet : await signed(sheet, key))
  const nothing = results.stills.length > 0 ? '' : `${cliSays['nothing-measured']().message}\n`
  return { file, results, told: `${file}\n${nothing}` }
}

/** As walk.yaml says, with what the options add; `--mask none` hides nothing but what another option does. */
function settingOf({ sheet }: Walk, { paper, maskPlates, mask = [] }: SheetOptions): SheetSetting {
  const kept = mask.includes('none') ? null : sheet
  return {
    paper: paper ?? sheet?.paper ?? 'A4',
    maskPlates: maskPlates === true || mask.includes('plates') || kept?.maskPlates === true,
    maskPeople: mask.includes('people') || kept?.maskPeople === true,
  }
}

/** What signs is loaded only where it is asked for. */
async function signed(sheet: Uint8Array, key: SigningKey): Promise<Uint8Array> {
  const { signPdf } = await import('../../sheet/document/signPdf.js')
  return signPdf(sheet, key, new Date())
}

async function signingKey(file: string, passphraseFile: string | undefined): Promise<SigningKey> {
  const read = (path: string, by: (path: string) => Promise<Buffer>): Promise<Buffer> =>
    by(path).catch((error: NodeJS.ErrnoException) => {
      throw error instanceof ProofwalkError
        ? error
        : fault(cliSays.unreadable(error.code ?? null), { file: path })
    })
  const passphrase =
    passphraseFile === undefined
      ? (process.env['PROOFWALK_PASSPHRASE'] ?? '')
      : (await read(passphraseFile, readFile)).toString('utf8').replace(/\r?\n$/, '')
  return { file, bytes: await read(file, readOrdinaryFile), passphrase }
}

/**
 * Writes the sheets of several walks, each into its own folder.
 * @throws `ProofwalkError` `option-out-of-place` where --out is given for several; `ProofwalkErrors` with what was at fault in any of them
 */
export async function sheetFolders(
  dirs: readonly string[],
  options: SheetOptions,
  terminal: Terminal,
): Promise<void> {
  if (options.out !== undefined) {
    throw fault(cliSays['option-out-of-place']('sheet-of-one-walk'), { field: '--out' })
  }
  await eachFolder(dirs, async (dir) => {
    terminal.out((await writeSheetOf(dir, options, terminal, dir)).told)
  })
  terminal.out(`Next: proofwalk summary ${dirs.map((path) => shellWord(path)).join(' ')} --pdf summary.pdf\n`)
  terminal.setStatus(0)
}
