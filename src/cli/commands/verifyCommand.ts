import { setFlagsFromString } from 'node:v8'
import type { Command } from 'commander'
import { wholeNumber } from '../terminal/optionValues.js'
import type { VerifyOptions } from '../folders/verifyTarget.js'
import type { Terminal } from '../terminal/terminal.js'

/** `verify DIR|SHEET.pdf`: whether the files of a walk, or a sheet with what is attached to it, belong together. */
export function addVerifyCommand(program: Command, terminal: Terminal): void {
  program
    .command('verify')
    .summary('tell whether stills, picks, results and sheet belong together')
    .description(
      "Holds the stills, picks.json, walk.yaml and sheet.pdf of a walk's folder against its results by their hashes; or a sheet alone against its own hash and the\n" +
        "files attached to it, and its printed figures against those. Judges again what results.json says, from its stills' own entries. Ends with 0 where all belong together, 1 where something does not.",
    )
    .argument('<target>', "a walk's folder, or a sheet")
    .option('--deep', 'measure every still again and compare every field of results.json')
    .option('--workers <n>', 'threads to measure on, with --deep', wholeNumber(1, 64))
    .option('--json', 'print one JSON document instead of the list')
    .addHelpText(
      'after',
      '\nExamples:\n  proofwalk verify my-camera\n  proofwalk verify my-camera --deep\n  proofwalk verify sheet.pdf',
    )
    .action(async (target: string, options: VerifyOptions) => {
      // Some 45 MB are alive for 2,400 stills; left to itself the engine lets garbage grow to four times that.
      setFlagsFromString('--optimize-for-size')
      const { verifyTarget } = await import('../folders/verifyTarget.js')
      await verifyTarget(target, options, terminal)
    })
}
