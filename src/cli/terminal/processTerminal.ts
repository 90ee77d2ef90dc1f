import type { Terminal } from './terminal.js'

/**
 * The terminal of this process. A reader that went away (a closed pipe) ends the output quietly; output that cannot be written otherwise is
 * told, and ends with 2.
 */
export function processTerminal(): Terminal {
  let outputLost = false
  process.stderr.on('error', () => undefined) // nowhere is left to tell it
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE' || outputLost) return
    outputLost = true
    process.exitCode = 2
    process.stderr.write(
      `proofwalk: standard output: cannot be written (${error.code ?? error.message}); make room or send it elsewhere\n`,
    )
  })
  const noColour = (process.env['NO_COLOR'] ?? '') !== ''
  return {
    out: (text) => void process.stdout.write(text),
    err: (text) => void process.stderr.write(text),
    interactive: process.stdin.isTTY === true && process.stdout.isTTY === true,
    showsProgress: process.stderr.isTTY === true,
    styled: process.stdout.isTTY === true && !noColour,
    columns: process.stdout.columns ?? 100,
    setStatus: (status) => {
      process.exitCode = outputLost ? 2 : status
    },
  }
}
