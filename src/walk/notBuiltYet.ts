import type { ProofwalkError } from '../errors.js'
import { fieldFault, type FaultyFile } from './schemaFaults.js'

/**
 * What the schema accepts and this version cannot do yet: refused by name, never ignored. When one is built, its
 * lines go.
 */
export function notBuiltYet(of: FaultyFile): ProofwalkError[] {
  const walk = groupOf(of.contents)
  const refuse = (path: readonly PropertyKey[], what: string, mend: string) =>
    fieldFault(of, path, 'not-built-yet', `${what} is not built yet`, mend)
  const faults: ProofwalkError[] = []
  if (groupOf(walk.distance).from === 'ground') {
    const mend = 'tape from the camera and take from: ground out'
    faults.push(refuse(['distance', 'from'], 'measuring along the ground', mend))
  }
  return faults
}

function groupOf(value: unknown): Record<string, unknown> {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {}
}
