import type { Terminal } from './terminal.js'

/** Begins the last line anew. */
export const REDRAW = '\r\u001b[2K'

/** One line on a terminal's standard error that counts up and goes away; nothing where there is no terminal. */
export function progressLine(
  terminal: Terminal,
  what: string,
): { show(done: number, all: number): void; clear(): void } {
  const write = (text: string): void => {
    if (terminal.showsProgress) terminal.err(REDRAW + text)
  }
  return {
    show: (done, all) => write(`${what} ${done} of ${all}`),
    clear: () => write(''),
  }
}
