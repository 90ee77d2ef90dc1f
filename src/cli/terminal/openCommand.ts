import open from 'open'
import { shellWord } from './shellWord.js'

/** The command that opens a file with the program its owner reads such files with, as typed on this kind of machine. */
export function openCommand(file: string, platform: NodeJS.Platform): string {
  if (platform === 'win32') return `start "" "${file}"`
  return `${platform === 'darwin' ? 'open' : 'xdg-open'} ${shellWord(file)}`
}

/** A program that has not failed by then has taken the address. */
const TAKEN_AFTER_MS = 1500

/** Hands a file to the user's browser; false where this machine has none that takes it. */
export async function openInBrowser(file: string): Promise<boolean> {
  const child = await open(file).catch(() => null)
  if (child === null) return false
  // Where `open` waits for the program itself, it has ended already.
  if (child.exitCode !== null) return child.exitCode === 0
  return new Promise((resolve) => {
    const taken = setTimeout(() => resolve(true), TAKEN_AFTER_MS)
    child.once('exit', (status) => {
      clearTimeout(taken)
      resolve(status === 0)
    })
  })
}
