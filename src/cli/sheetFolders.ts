import { ProofwalkError } from '../errors.js'
import { eachFolder } from './terminal/eachFolder.js'
import { type SheetOptions, writeSheetOf } from './folders/sheetFolder.js'
import { shellWord } from './terminal/shellWord.js'
import type { Terminal } from './terminal/terminal.js'

/** Writes the sheets of several walks, each into its own folder. */
export async function sheetFolders(
  dirs: readonly string[],
  options: SheetOptions,
  terminal: Terminal,
): Promise<void> {
  if (options.out !== undefined) {
    const mend = 'leave it out: every sheet is written into its walk as sheet.pdf'
    throw new ProofwalkError('option-out-of-place', 'is for one walk', { field: '--out', mend })
  }
  await eachFolder(dirs, async (dir) => {
    terminal.out(`${await writeSheetOf(dir, options, terminal, dir)}\n`)
  })
  terminal.out(`Next: proofwalk summary ${dirs.map(shellWord).join(' ')} --pdf summary.pdf\n`)
  terminal.setStatus(0)
}
