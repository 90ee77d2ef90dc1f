import { ProofwalkError } from '../../errors.js'
import { fault } from '../../sentences.js'
import { folderState } from '../../files/folderState.js'
import { cliSays } from '../sentences.js'
import { printFault } from '../terminal/printFault.js'
import type { Terminal } from '../terminal/terminal.js'

/** How often the folder is looked at; a file counts once it has stayed the same for one look, so that none is read half-written. */
const LOOK_EVERY_MS = 300

/** What is done with a folder that is watched. */
export interface WatchedFolder {
  /** Measures it as a whole. */
  measure(): Promise<void>
  /** Shows these of its files, which came or changed. */
  show(files: ReadonlySet<string>): Promise<void>
}

/**
 * Measures, and again whenever walk.yaml, picks.json or a still has come, gone or changed, until the process is told to end: each file that came or changed is shown as soon as it
 * rests, and all is measured once they all do. Later faults are told and watching goes on: a walk.yaml being edited is often wrong for a moment, and a folder that is gone may come back.
 * @throws what is a fault of our own, and what the first measuring throws
 */
export async function watchFolder(
  dir: string,
  { measure, show }: WatchedFolder,
  terminal: Terminal,
): Promise<void> {
  const shown = new Map(await folderState(dir)) // before measuring, so that what comes meanwhile is seen
  await measure()
  terminal.err(`watching ${dir}: end with Ctrl-C\n`)
  let before: ReadonlyMap<string, string> = shown
  let isMeasured = true
  let isGoneSaid = false
  for (;;) {
    await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY_MS))
    const now = await folderState(dir)
    const changed = [...now].filter(([file, state]) => shown.get(file) !== state)
    const atRest = changed.filter(([file, state]) => before.get(file) === state)
    const isGone = [...shown.keys()].some((file) => !now.has(file))
    const rests = changed.length === atRest.length && [...before.keys()].every((file) => now.has(file))
    // A stick that was pulled out, or a walk that an editor is just putting back: nothing is asked of it meanwhile.
    const isWalkGone = now.get('walk.yaml') === 'gone'
    if (isWalkGone && before.get('walk.yaml') === 'gone' && !isGoneSaid)
      printFault(fault(cliSays['watched-gone'](), { file: dir }), terminal)
    isGoneSaid = isWalkGone && before.get('walk.yaml') === 'gone'
    before = now
    if (isWalkGone) continue
    if (changed.length > 0 || isGone) isMeasured = false
    for (const [file, state] of atRest) shown.set(file, state)
    try {
      if (atRest.length > 0) await show(new Set(atRest.map(([file]) => file)))
      if (isMeasured || !rests) continue
      for (const file of shown.keys()) if (!now.has(file)) shown.delete(file)
      isMeasured = true
      await measure()
    } catch (error) {
      if (!(error instanceof ProofwalkError)) throw error
      printFault(error, terminal)
    }
  }
}
