import { printFault } from './terminal/printFault.js'
import { CommanderError } from 'commander'
import { buildProgram } from './program.js'
import type { Terminal } from './terminal/terminal.js'

/**
 * Runs one command line (without node and script) against a terminal. This is the one place where faults are printed and turned into an
 * exit status: 2 for what the user can mend, 3 for a fault of ours.
 */
export async function runProgram(args: readonly string[], terminal: Terminal): Promise<void> {
  try {
    await buildProgram(terminal).parseAsync([...args], { from: 'user' })
  } catch (error) {
    if (error instanceof CommanderError) {
      // commander has printed its own line by then; help and version end with 0
      terminal.setStatus(error.exitCode === 0 ? 0 : 2)
      return
    }
    terminal.setStatus(printFault(error, terminal))
  }
}
