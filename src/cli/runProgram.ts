import { CommanderError } from 'commander'
import { ProofwalkError, ProofwalkErrors, faultLine } from '../errors.js'
import { buildProgram } from './program.js'
import type { Terminal } from './terminal.js'

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

function printFault(error: unknown, terminal: Terminal): 2 | 3 {
  if (error instanceof ProofwalkErrors) {
    for (const fault of error.faults) terminal.err(`proofwalk: ${faultLine(fault)}\n`)
    return error.exitStatus
  }
  if (error instanceof ProofwalkError) {
    terminal.err(`proofwalk: ${faultLine(error)}\n`)
    return error.exitStatus
  }
  const text = error instanceof Error ? (error.stack ?? error.message) : String(error)
  terminal.err(`proofwalk: a fault of our own, please report it with what you did:\n${text}\n`)
  return 3
}
