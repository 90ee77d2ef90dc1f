import { startPageServer } from '../../page/server/startPageServer.js'
import { openInBrowser } from '../terminal/openCommand.js'
import { openerFile } from '../terminal/openerFile.js'
import { shellWord } from '../terminal/shellWord.js'
import type { Terminal } from '../terminal/terminal.js'

/** The options of `pick`, as typed. */
export interface PickOptions {
  readonly port?: number
  readonly open: boolean
}

const END_SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const

/** Serves the page of a walk's folder until it is told to end, by the page or by a signal. */
export async function pickFolder(dir: string, options: PickOptions, terminal: Terminal): Promise<void> {
  const server = await startPageServer({ dir, ...(options.port === undefined ? {} : { port: options.port }) })
  terminal.out(`${server.address}\n`)
  const close = (): void => void server.close()
  for (const signal of END_SIGNALS) process.once(signal, close)
  const opener = options.open ? await openerFile(dir, server.address) : null
  if (opener !== null && !(await openInBrowser(opener.path))) {
    terminal.err('no browser could be opened: open the address above yourself\n')
  }
  terminal.err('the page is open; end it with Ctrl-C\n')
  await server.ended
  await opener?.remove()
  for (const signal of END_SIGNALS) process.removeListener(signal, close)
  terminal.out(`Next: proofwalk measure ${shellWord(dir)}\n`)
  terminal.setStatus(0)
}
