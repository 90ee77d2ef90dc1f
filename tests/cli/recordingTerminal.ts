import { runProgram } from '../../src/cli/runProgram.js'
import type { Terminal } from '../../src/cli/terminal/terminal.js'
import { escapedLines } from '../../src/files/oneLine.js'

/** What a command wrote and ended with. */
export interface CommandRecord {
  readonly out: string
  readonly err: string
  readonly status: number
}

/**
 * Runs a command line in this process, which saves the start of another, and takes down what a process without a terminal would write (the same to the byte, as
 * tests/journeys/commandLine.test.ts shows). All runs on this thread, whatever `--workers` says. What is about the process itself runs by `runProofwalk`.
 */
export async function runCommand(...args: readonly string[]): Promise<CommandRecord> {
  let out = ''
  let err = ''
  let status = 0
  const terminal: Terminal = {
    out: (text) => void (out += escapedLines(text)),
    err: (text) => void (err += escapedLines(text)),
    interactive: false,
    showsProgress: false,
    styled: false,
    columns: 100,
    setStatus: (given) => void (status = given),
  }
  await runProgram(args, terminal)
  return { out, err, status }
}
