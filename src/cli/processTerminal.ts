import type { Terminal } from './terminal.js'

/** The terminal of this process. A reader that went away (a closed pipe) ends the output quietly. */
export function processTerminal(): Terminal {
  for (const stream of [process.stdout, process.stderr]) {
    stream.on('error', (error: NodeJS.ErrnoException) => {
      if (error.code !== 'EPIPE') throw error
    })
  }
  const noColour = (process.env['NO_COLOR'] ?? '') !== ''
  return {
    out: (text) => void process.stdout.write(text),
    err: (text) => void process.stderr.write(text),
    interactive: process.stdin.isTTY === true && process.stdout.isTTY === true,
    showsProgress: process.stderr.isTTY === true,
    styled: process.stdout.isTTY === true && !noColour,
    columns: process.stdout.columns ?? 100,
    setStatus: (status) => {
      process.exitCode = status
    },
  }
}
