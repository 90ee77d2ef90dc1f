import { readdir, stat } from 'node:fs/promises'
import { join } from 'node:path'

/** What `fileStamp` says of walk.yaml, picks.json and everything below stills/, by its path with forward slashes: what tells that something came, went or changed. */
export async function folderState(dir: string): Promise<ReadonlyMap<string, string>> {
  const stills = await readdir(join(dir, 'stills'), { recursive: true }).catch(() => [])
  const files = ['walk.yaml', 'picks.json', ...stills.map((name) => `stills/${name.replaceAll('\\', '/')}`)]
  const states = files.sort().map(async (file) => [file, await fileStamp(join(dir, file))] as const)
  return new Map(await Promise.all(states))
}

/** What changes whenever a file does, links followed: its size, number and times to the last bit, of which no program sets the last; "gone" where there is none. */
export async function fileStamp(path: string): Promise<string> {
  const state = await stat(path, { bigint: true }).catch(() => null)
  return state === null ? 'gone' : [state.size, state.ino, state.mtimeNs, state.ctimeNs].join('-')
}
