import type { Terminal } from '../../src/cli/terminal/terminal.js'
import { runProgram } from '../../src/cli/runProgram.js'

/** What a command wrote and ended with. */
export interface CommandRecord {
  readonly out: string
  readonly err: string
  readonly status: number
}

/** Runs a command line against a terminal that only takes down; nothing is asked on it. */
export async function runCommand(...args: readonly string[]): Promise<CommandRecord> {
  let out = ''
  let err = ''
  let status = 0
  const terminal: Terminal = {
    out: (text) => void (out += text),
    err: (text) => void (err += text),
    interactive: false,
    showsProgress: false,
    styled: false,
    columns: 100,
    setStatus: (given) => void (status = given),
  }
  await runProgram(args, terminal)
  return { out, err, status }
}
