import { ProofwalkError } from '../../errors.js'
import { folderState } from '../../files/folderState.js'
import { printFault } from '../terminal/printFault.js'
import type { Terminal } from '../terminal/terminal.js'

/** How often the folder is looked at; a still counts once it has stayed the same for one look, so that none is read half-written. */
const LOOK_EVERY_MS = 1000

/**
 * Measures, and again whenever walk.yaml, picks.json or a still has come, gone or changed, until the process is told to end. Later faults are told and
 * watching goes on: a walk.yaml being edited is often wrong for a moment.
 * @throws what is a fault of our own, and what the first measuring throws
 */
export async function watchFolder(
  dir: string,
  measure: () => Promise<void>,
  terminal: Terminal,
): Promise<void> {
  let measured = await stateOf(dir) // before measuring, so that what comes meanwhile is seen
  await measure()
  terminal.err(`watching ${dir}: end with Ctrl-C\n`)
  let before = measured
  for (;;) {
    await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY_MS))
    const now = await stateOf(dir)
    if (now === before && now !== measured) {
      measured = now
      try {
        await measure()
      } catch (error) {
        if (!(error instanceof ProofwalkError)) throw error
        printFault(error, terminal)
      }
    }
    before = now
  }
}

async function stateOf(dir: string): Promise<string> {
  return [...(await folderState(dir))].join('\n')
}
