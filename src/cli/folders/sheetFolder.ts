import { fault } from '../../sentences.js'
import { cliSays } from '../sentences.js'
import { eachFolder } from '../terminal/eachFolder.js'
import { shellWord } from '../terminal/shellWord.js'
import type { Terminal } from '../terminal/terminal.js'
import { join } from 'node:path'
import type { PaperName, SheetAttach } from '../../sheet/input/sheetInput.js'
import { walkSheet } from '../../sheet/acceptance/walkSheet.js'
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
  readonly paper: PaperName
  readonly maskPlates?: true
  readonly mask?: 'plates' | 'people'
  readonly attach?: SheetAttach
  readonly workers?: number
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
  const results = await resultsFor(walk, options.workers ?? null, terminal, { called })
  await writeWhole(
    file,
    await walkSheet(walk, results, {
      paper: options.paper,
      maskPlates: options.maskPlates === true || options.mask === 'plates',
      maskPeople: options.mask === 'people',
      ...(options.attach === undefined ? {} : { attach: options.attach }),
    }),
  )
  const nothing = results.stills.length > 0 ? '' : `${cliSays['nothing-measured']().message}\n`
  return { file, results, told: `${file}\n${nothing}` }
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
  terminal.out(`Next: proofwalk summary ${dirs.map(shellWord).join(' ')} --pdf summary.pdf\n`)
  terminal.setStatus(0)
}
