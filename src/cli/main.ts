import { processTerminal } from './processTerminal.js'
import { runProgram } from './runProgram.js'

/** Runs the command of this process; the exit status is set, never forced, so that all output is written. */
export async function main(args: readonly string[]): Promise<void> {
  await runProgram(args, processTerminal())
}
