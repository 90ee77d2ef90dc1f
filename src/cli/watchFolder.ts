import { readdir, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { ProofwalkError } from '../errors.js'
import { printFault } from './runProgram.js'
import type { Terminal } from './terminal.js'

/** How often the folder is looked at; a still counts once it has stayed the same for one look, so that none is read half-written. */
const LOOK_EVERY_MS = 1000

/**
 * Measures, and again whenever walk.yaml, picks.json or a still has come, gone or changed, until the process is told to end. Later faults are told and
 * watching goes on: a walk.yaml being edited is often wrong for a moment.
 */
export async function watchFolder(
  dir: string,
  measure: () => Promise<void>,
  terminal: Terminal,
): Promise<void> {
  let measured = await folderState(dir) // before measuring, so that what comes meanwhile is seen
  await measure()
  terminal.err(`watching ${dir}: end with Ctrl-C\n`)
  let before = measured
  for (;;) {
    await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY_MS))
    const now = await folderState(dir)
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

async function folderState(dir: string): Promise<string> {
  const stills = await readdir(join(dir, 'stills'), { recursive: true }).catch(() => [])
  const files = ['walk.yaml', 'picks.json', ...stills.map((name) => join('stills', name))].sort()
  const states = files.map(async (file) => {
    const state = await stat(join(dir, file)).catch(() => null)
    return state === null ? `${file} gone` : `${file} ${state.size} ${state.mtimeMs}`
  })
  return (await Promise.all(states)).join('\n')
}
