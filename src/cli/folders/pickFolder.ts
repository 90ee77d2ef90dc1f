import { startPageServer } from '../../page/server/startPageServer.js'
import { serveUntilEnded } from '../terminal/serveUntilEnded.js'
import { shellWord } from '../terminal/shellWord.js'
import type { Terminal } from '../terminal/terminal.js'

/** The options of `pick`, as typed. */
export interface PickOptions {
  readonly port?: number
  readonly open: boolean
}

/** Serves the page of a walk's folder until it is told to end, by the page or by a signal. */
export async function pickFolder(dir: string, options: PickOptions, terminal: Terminal): Promise<void> {
  const server = await startPageServer({ dir, ...(options.port === undefined ? {} : { port: options.port }) })
  await serveUntilEnded(server, dir, options.open, terminal)
  terminal.out(`Next: proofwalk measure ${shellWord(dir)}\n`)
  terminal.setStatus(0)
}
