import { ProofwalkError, ProofwalkErrors, faultLine } from '../../errors.js'
import { diskFault } from '../../files/writeWhole.js'
import { escaped, oneLine } from '../../files/oneLine.js'
import { linesOfKinds } from './manyOfAKind.js'
import type { Terminal } from './terminal.js'

/** A fault is never cut before this: file names may be long, and the mend comes last. */
const LONGEST_FAULT = 6000

/** The fault with what names its place as it is shown. */
function shownPlace({ code, message, place }: ProofwalkError): ProofwalkError {
  const shown = place.file === undefined ? {} : { file: escaped(place.file) }
  return new ProofwalkError(code, message, { ...place, ...shown })
}

/** Prints a fault, a line each where it is several, and returns the exit status it ends with. */
export function printFault(error: unknown, terminal: Pick<Terminal, 'err'>): 2 | 3 {
  const told = diskFault(error)
  if (told !== null) {
    const faults = told instanceof ProofwalkErrors ? told.faults : [told]
    const kindOf = ({ code, place }: ProofwalkError): string => JSON.stringify([code, place.file])
    const lineOf = (fault: ProofwalkError): string => oneLine(faultLine(shownPlace(fault)), LONGEST_FAULT)
    for (const line of linesOfKinds(faults, kindOf, lineOf)) terminal.err(`proofwalk: ${line}\n`)
    return told.exitStatus
  }
  const text = error instanceof Error ? (error.stack ?? error.message) : String(error)
  terminal.err(`proofwalk: a fault of our own, please report it with what you did:\n${text}\n`)
  return 3
}
