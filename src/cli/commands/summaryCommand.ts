import { type Command, Option } from 'commander'
import type { SummaryOptions } from '../folders/summaryFolders.js'
import type { Terminal } from '../terminal/terminal.js'

/** `summary DIR...`: the walks of a site, every promise, the worst first. */
export function addSummaryCommand(program: Command, terminal: Terminal): void {
  program
    .command('summary')
    .summary('put the walks of a site together, the worst first')
    .description(
      'Puts the results of many walks together: every promise of every camera, the worst first. Nothing is measured; a walk whose results do not match its files\n' +
        'is named. Ends with 0 when every promise is met, 1 when one is not met or not shown, a walk has no current results, or one picture or scene stands under two names.',
    )
    .argument('<dirs...>', "the walks' folders")
    .option(
      '--no-scene',
      'do not look at stills: whether two walks show one picture encoded again, or one scene',
    )
    .option('--json', 'print one JSON document instead of the table')
    .option('--csv <file>', 'write a row for every promise as CSV')
    .option('--pdf <file>', 'write one PDF of all cameras and promises, with a place to sign')
    .addOption(new Option('--paper <size>', 'the paper of the PDF').choices(['A4', 'Letter']).default('A4'))
    .addHelpText('after', '\nExample:\n  proofwalk summary harbour/* --pdf harbour.pdf --csv harbour.csv')
    .action(async (dirs: string[], options: SummaryOptions) => {
      const { summaryFolders } = await import('../folders/summaryFolders.js')
      await summaryFolders(dirs, options, terminal)
    })
}
