import { processTerminal } from './terminal/processTerminal.js'
import { runProgram } from './runProgram.js'
import { printFault } from './terminal/printFault.js'

/** Runs the command of this process; the exit status is set, never forced, so that all output is written. */
export async function main(args: readonly string[]): Promise<void> {
  const terminal = processTerminal()
  // node would end with 1, which here means that a promise is not met
  process.once('uncaughtException', (error) => process.exit(printFault(error, terminal)))
  await runProgram(args, terminal)
}
