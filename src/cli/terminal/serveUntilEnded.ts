import type { PageServer } from '../../page/server/reply/serveLoopback.js'
import { openInBrowser } from './openCommand.js'
import { openerFile } from './openerFile.js'
import type { Terminal } from './terminal.js'

const END_SIGNALS = ['SIGINT', 'SIGTERM', 'SIGHUP'] as const

/** Prints a page's address, opens it where asked, and waits until it is told to end, by the page or by a signal. `near`: where the file that opens it may lie. */
export async function serveUntilEnded(
  server: PageServer,
  near: string,
  open: boolean,
  terminal: Terminal,
): Promise<void> {
  terminal.out(`${server.address}\n`)
  const close = (): void => void server.close()
  for (const signal of END_SIGNALS) process.once(signal, close)
  const opener = open ? await openerFile(near, server.address) : null
  if (opener !== null && !(await openInBrowser(opener.path))) {
    terminal.err('no browser could be opened: open the address above yourself\n')
  }
  terminal.err('the page is open; end it with Ctrl-C\n')
  await server.ended
  await opener?.remove()
  for (const signal of END_SIGNALS) process.removeListener(signal, close)
}
