import { Command, Help } from 'commander'
import { productVersion } from '../version.js'
import { addChartCommand } from './commands/chartCommand.js'
import { addCompareCommand } from './commands/compareCommand.js'
import { addDemoCommand } from './commands/demoCommand.js'
import { addHelpCommand } from './commands/helpCommand.js'
import { addListCommand } from './commands/listCommand.js'
import { addMeasureCommand } from './commands/measureCommand.js'
import { addNewCommand } from './commands/newCommand.js'
import { addPickCommand } from './commands/pickCommand.js'
import { addPlanCommand } from './commands/planCommand.js'
import { addReadCommand } from './commands/readCommand.js'
import { addSchemaCommand } from './commands/schemaCommand.js'
import { addSheetCommand } from './commands/sheetCommand.js'
import { addSummaryCommand } from './commands/summaryCommand.js'
import { HELP_TOPICS } from './help/helpTopics.js'
import type { Terminal } from './terminal/terminal.js'
import { usageFault } from './terminal/usageFault.js'
import { addVerifyCommand } from './commands/verifyCommand.js'

/** The whole command line. Commands load what is heavy only when they run. */
export function buildProgram(terminal: Terminal): Command {
  const topics = new Help().boxWrap(
    `Topics of "proofwalk help TOPIC": ${Object.keys(HELP_TOPICS).join(', ')}; and every code, such as chart-bent.`,
    terminal.columns,
  )
  const program = new Command('proofwalk')
    .description(
      'Measure from exported stills what a fixed camera really resolves, and print the sheet that proves it.',
    )
    .version(productVersion, '-V, --version', 'print the version')
    .helpOption('-h, --help', 'print this help')
    .configureOutput({
      writeOut: (text) => terminal.out(text),
      writeErr: (text) => terminal.err(text),
      getOutHelpWidth: () => terminal.columns,
      getErrHelpWidth: () => terminal.columns,
    })
    .exitOverride()
    .addHelpText('after', `\n${topics}\n\nExample:\n  proofwalk demo\n\nNext: proofwalk new my-camera`)
  addNewCommand(program, terminal)
  addPlanCommand(program, terminal)
  addChartCommand(program, terminal)
  addPickCommand(program, terminal)
  addMeasureCommand(program, terminal)
  addReadCommand(program, terminal)
  addSheetCommand(program, terminal)
  addCompareCommand(program, terminal)
  addSummaryCommand(program, terminal)
  addVerifyCommand(program, terminal)
  addListCommand(program, terminal)
  addSchemaCommand(program, terminal)
  addDemoCommand(program, terminal)
  addHelpCommand(program, terminal)
  pointToOwnHelp(program, 'proofwalk')
  return program
}

/** Lets every command name its own help where it is misused. */
function pointToOwnHelp(command: Command, name: string): void {
  command.configureOutput({ outputError: (text, write) => write(usageFault(text, name)) })
  for (const one of command.commands) pointToOwnHelp(one, `${name} ${one.name()}`)
}
