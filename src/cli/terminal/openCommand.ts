import { shellWord } from './shellWord.js'

/** The command that opens a file with the program its owner reads such files with, as typed on this kind of machine. */
export function openCommand(file: string, platform: NodeJS.Platform): string {
  if (platform === 'win32') return `start "" "${file}"`
  return `${platform === 'darwin' ? 'open' : 'xdg-open'} ${shellWord(file)}`
}
