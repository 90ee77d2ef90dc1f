import { type Command, Option } from 'commander'
import type { PlanOptions } from '../folders/planFolder.js'
import type { Terminal } from '../terminal/terminal.js'

/** `plan DIR`: what the data sheet lets one expect, what to tape and print, and a page to take outside. */
export function addPlanCommand(program: Command, terminal: Terminal): void {
  program
    .command('plan')
    .summary('predict from the data sheet, and choose the marks')
    .description(
      "Reads a walk's data sheet: what it implies at each mark, how far out each grade should hold, where the sheet contradicts itself, " +
        'which marks to measure and which chart to print. Nothing is measured, no still is opened.',
    )
    .argument('<dir>', "the walk's folder")
    .option('--pdf <file>', 'write a walk plan to take outside, as PDF')
    .addOption(
      new Option('--paper <size>', 'the paper the plan is set for').choices(['A4', 'Letter']).default('A4'),
    )
    .addOption(new Option('--json', 'print one JSON document instead of the table'))
    .addHelpText('after', '\nExample:\n  proofwalk plan my-camera --pdf my-camera/plan.pdf')
    .action(async (dir: string, options: PlanOptions) => {
      const { planFolder } = await import('../folders/planFolder.js')
      await planFolder(dir, options, terminal)
    })
}
