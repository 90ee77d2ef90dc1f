import type { Command } from 'commander'
import type { CompareOptions } from '../folders/compareFolders.js'
import { wholeNumber } from '../terminal/optionValues.js'
import type { Terminal } from '../terminal/terminal.js'

/** `compare BEFORE AFTER`: two walks of the same camera, what changed and whether it matters. */
export function addCompareCommand(program: Command, terminal: Terminal): void {
  program
    .command('compare')
    .summary('hold two walks of the same camera against each other')
    .description(
      'Says mark by mark and light by light what changed between two walks of the same camera, with the uncertainty of the difference, what it\n' +
        'means, and which promises came to another verdict. Measures first where results.json is missing or does not match its inputs.\n' +
        'Ends with 0 where nothing changed, 1 where something did, a promise is worse off, or the walks do not compare.',
    )
    .argument('<before>', "the earlier walk's folder")
    .argument('<after>', "the later walk's folder")
    .option('--json', 'print one JSON document instead of the tables')
    .option('--pdf <file>', 'write it as PDF as well')
    .option('--workers <n>', 'threads to measure on, where that is needed', wholeNumber(1, 64))
    .addHelpText('after', '\nExample:\n  proofwalk compare my-camera-2026 my-camera-2027 --pdf compared.pdf')
    .action(async (before: string, after: string, options: CompareOptions) => {
      const { compareFolders } = await import('../folders/compareFolders.js')
      await compareFolders(before, after, options, terminal)
    })
}
