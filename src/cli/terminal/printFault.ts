import { ProofwalkErrors, faultLine } from '../../errors.js'
import { diskFault } from '../../files/writeWhole.js'
import { oneLine } from '../../files/oneLine.js'
import type { Terminal } from './terminal.js'

/** A fault is never cut before this: file names may be long, and the mend comes last. */
const LONGEST_FAULT = 6000

/** Prints a fault, a line each where it is several, and returns the exit status it ends with. */
export function printFault(error: unknown, terminal: Pick<Terminal, 'err'>): 2 | 3 {
  const told = diskFault(error)
  if (told !== null) {
    const faults = told instanceof ProofwalkErrors ? told.faults : [told]
    for (const fault of faults) terminal.err(`proofwalk: ${oneLine(faultLine(fault), LONGEST_FAULT)}\n`)
    return told.exitStatus
  }
  const text = error instanceof Error ? (error.stack ?? error.message) : String(error)
  terminal.err(`proofwalk: a fault of our own, please report it with what you did:\n${text}\n`)
  return 3
}
