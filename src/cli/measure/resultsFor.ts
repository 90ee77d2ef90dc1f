import { currentResults } from '../../walk/measure/currentResults.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import type { Walk } from '../../walk/read/walk.js'
import { measureAndWrite } from './measureFolder.js'
import type { Terminal } from '../terminal/terminal.js'

/** What results must be besides belonging to their walk: a reason why they will not do, or null. */
export type ResultsNeed = (results: WalkResults) => string | null

/** The results that belong to a walk, measured first where there are none that do, which is said on standard error, after `called` where it is given. */
export async function resultsFor(
  walk: Walk,
  workers: number | null,
  terminal: Terminal,
  { called = '', need = () => null }: { readonly called?: string; readonly need?: ResultsNeed } = {},
): Promise<WalkResults> {
  const current = await currentResults(walk)
  const why = current.results === null ? current.why : need(current.results)
  if (current.results !== null && why === null) return current.results
  terminal.err(`${called === '' ? '' : `${called}: `}measuring first: ${why ?? ''}\n`)
  return measureAndWrite(walk, { workers }, terminal)
}
