import { readdir } from 'node:fs/promises'
import { startPageServer } from '../../page/server/startPageServer.js'
import { todayHere } from '../../walk/new/makeWalk.js'
import { serveUntilEnded } from '../terminal/serveUntilEnded.js'
import { shellWord } from '../terminal/shellWord.js'
import type { Terminal } from '../terminal/terminal.js'

/** The options of `pick`, as typed. */
export interface PickOptions {
  readonly port?: number
  readonly open: boolean
}

/**
 * Serves the page of a walk's folder until it is told to end, by the page or by a signal. A folder that is no walk becomes one on the page; where none is
 * named, and this one is none, in a new folder of it.
 */
export async function pickFolder(
  named: string | undefined,
  options: PickOptions,
  terminal: Terminal,
): Promise<void> {
  const dir = named ?? '.'
  const begin = named === undefined ? await proposedFolder(dir, todayHere()) : null
  const server = await startPageServer({
    dir,
    begin,
    ...(options.port === undefined ? {} : { port: options.port }),
  })
  if (server.walkDir() === null)
    terminal.err('there is no walk here: the page asks what it takes to begin one\n')
  await serveUntilEnded(server, dir, options.open, terminal)
  const walk = server.walkDir()
  terminal.out(
    walk === null
      ? `Next: proofwalk pick${named === undefined ? '' : ` ${shellWord(named)}`}\n`
      : `Next: proofwalk measure ${shellWord(walk)}\n`,
  )
  terminal.setStatus(0)
}

/** A name for a walk's folder that nothing in `dir` has: its date, with a number from the second on. */
async function proposedFolder(dir: string, date: string): Promise<string> {
  const taken = await readdir(dir).catch((): string[] => [])
  for (let count = 1; ; count++) {
    const name = count === 1 ? `walk-${date}` : `walk-${date}-${count}`
    if (!taken.includes(name)) return name
  }
}
