import { escapedLines } from '../../files/oneLine.js'
import { fault } from '../../sentences.js'
import { cliSays } from '../sentences.js'
import { printFault } from './printFault.js'
import { REDRAW } from './progressLine.js'
import type { Terminal } from './terminal.js'

/**
 * The terminal of this process: of what is written to it, nothing moves its cursor or turns its text, whatever files are called. A reader that went away (a closed pipe) ends the output quietly; output that cannot be written otherwise is
 * told, and ends with 2.
 */
export function processTerminal(): Terminal {
  let outputLost = false
  process.stderr.on('error', () => undefined) // nowhere is left to tell it
  process.stdout.on('error', (error: NodeJS.ErrnoException) => {
    if (error.code === 'EPIPE' || outputLost) return
    outputLost = true
    process.exitCode = 2
    const said = cliSays['output-lost'](error.code ?? error.message)
    printFault(fault(said, { file: 'standard output' }), { err: (text) => process.stderr.write(text) })
  })
  const noColour = (process.env['NO_COLOR'] ?? '') !== ''
  return {
    out: (text) => void process.stdout.write(escapedLines(text)),
    err: (text) => {
      const drawn = text.startsWith(REDRAW) ? REDRAW : ''
      process.stderr.write(drawn + escapedLines(text.slice(drawn.length)))
    },
    interactive: process.stdin.isTTY === true && process.stdout.isTTY === true,
    showsProgress: process.stderr.isTTY === true,
    styled: process.stdout.isTTY === true && !noColour,
    columns: process.stdout.columns ?? 100,
    setStatus: (status) => {
      process.exitCode = outputLost ? 2 : status
    },
  }
}
