import { readdir, stat } from 'node:fs/promises'
import { join } from 'node:path'

/** Size and time of change of walk.yaml, picks.json and everything below stills/, by its path with forward slashes: what tells that something came, went or changed. */
export async function folderState(dir: string): Promise<ReadonlyMap<string, string>> {
  const stills = await readdir(join(dir, 'stills'), { recursive: true }).catch(() => [])
  const files = ['walk.yaml', 'picks.json', ...stills.map((name) => `stills/${name.replaceAll('\\', '/')}`)]
  const states = files.sort().map(async (file) => [file, await fileStamp(join(dir, file))] as const)
  return new Map(await Promise.all(states))
}

/** Size and time of change of a file, links followed; "gone" where there is none. */
export async function fileStamp(path: string): Promise<string> {
  const state = await stat(path).catch(() => null)
  return state === null ? 'gone' : `${state.size}-${Math.round(state.mtimeMs)}`
}
