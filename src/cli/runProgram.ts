import { CommanderError } from 'commander'
import { ProofwalkError, ProofwalkErrors, faultLine } from '../errors.js'
import { buildProgram } from './program.js'
import { oneLine } from '../files/oneLine.js'
import type { Terminal } from './terminal/terminal.js'

/** A fault is never cut before this: file names may be long, and the mend comes last. */
const LONGEST_FAULT = 6000

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

/** Prints a fault, a line each where it is several, and returns the exit status it ends with. */
export function printFault(error: unknown, terminal: Pick<Terminal, 'err'>): 2 | 3 {
  if (error instanceof ProofwalkError) {
    const faults = error instanceof ProofwalkErrors ? error.faults : [error]
    for (const fault of faults) terminal.err(`proofwalk: ${oneLine(faultLine(fault), LONGEST_FAULT)}\n`)
    return error.exitStatus
  }
  const text = error instanceof Error ? (error.stack ?? error.message) : String(error)
  terminal.err(`proofwalk: a fault of our own, please report it with what you did:\n${text}\n`)
  return 3
}
