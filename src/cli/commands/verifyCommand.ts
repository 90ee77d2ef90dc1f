import { setFlagsFromString } from 'node:v8'
import type { Command } from 'commander'
import { wholeNumber } from '../terminal/optionValues.js'
import type { VerifyOptions } from '../folders/verifyTargets.js'
import type { Terminal } from '../terminal/terminal.js'

/** `verify DIR|SHEET.pdf ...`: whether the files of each walk, or a sheet with what is attached to it, belong together, and whether two of the walks show one thing. */
export function addVerifyCommand(program: Command, terminal: Terminal): void {
  program
    .command('verify')
    .summary('tell whether stills, picks, results and sheet belong together')
    .description(
      "Holds the stills, picks.json, walk.yaml and sheet.pdf of a walk's folder against its results by their hashes; or a sheet alone against its own hash and the\n" +
        "files attached to it, and its printed figures against those. Judges again what results.json says, from its stills' own entries. Of several walks, tells\n" +
        'where two hold one picture, or two cameras show one scene. Ends with 0 where all belong together, 1 where something does not.',
    )
    .argument('<targets...>', "walks' folders, or sheets")
    .option('--deep', 'measure every still again and compare every field of results.json')
    .option('--no-scene', 'of several walks, hold hashes against each other alone, and look at no still')
    .option('--workers <n>', 'threads to measure on, with --deep', wholeNumber(1, 64))
    .option('--json', 'print one JSON document instead of the list')
    .addHelpText(
      'after',
      '\nExamples:\n  proofwalk verify my-camera\n  proofwalk verify my-camera --deep\n  proofwalk verify sheet.pdf\n  proofwalk verify harbour/*',
    )
    .action(async (targets: string[], options: VerifyOptions) => {
      // Some 45 MB are alive for 2,400 stills; left to itself the engine lets garbage grow to four times that.
      setFlagsFromString('--optimize-for-size')
      const { verifyTargets } = await import('../folders/verifyTargets.js')
      await verifyTargets(targets, options, terminal)
    })
}
