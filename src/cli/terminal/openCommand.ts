import { spawn } from 'node:child_process'
import { shellWord } from './shellWord.js'

/** The command that opens a file with the program its owner reads such files with, as typed on this kind of machine. */
export function openCommand(file: string, platform: NodeJS.Platform): string {
  if (platform === 'win32') return `start "" "${file}"`
  return `${platform === 'darwin' ? 'open' : 'xdg-open'} ${shellWord(file)}`
}

/** A program that has not failed by then has taken the address. */
const TAKEN_AFTER_MS = 1500

/** Hands an address of ours to the user's browser; false where this machine has none that takes it. */
export function openInBrowser(
  address: string,
  platform: NodeJS.Platform = process.platform,
): Promise<boolean> {
  const [program, ...args] = browserCommand(address, platform)
  return new Promise((resolve) => {
    const child = spawn(program!, args, { stdio: 'ignore', detached: true })
    const taken = setTimeout(() => resolve(true), TAKEN_AFTER_MS)
    const settle = (isTaken: boolean): void => {
      clearTimeout(taken)
      resolve(isTaken)
    }
    child.on('error', () => settle(false))
    child.on('exit', (status) => settle(status === 0))
    child.unref()
  })
}

/** The address is ours and holds no character a shell knows, so `start` may see it. */
function browserCommand(address: string, platform: NodeJS.Platform): string[] {
  if (platform === 'win32') return ['cmd', '/c', 'start', '""', address]
  return [platform === 'darwin' ? 'open' : 'xdg-open', address]
}
