import { createHash } from 'node:crypto'
import { lstat, readFile, readdir, readlink } from 'node:fs/promises'
import { join } from 'node:path'

/** Everything below a folder by its path: a hash of every file, where every link leads, and what is neither. Nothing but files is opened, and the cache is left out. */
export async function folderState(
  dir: string,
  leaveOut: readonly string[] = [],
): Promise<Record<string, string>> {
  const state: Record<string, string> = {}
  for (const name of (await readdir(dir, { recursive: true })).sort()) {
    if (!/^\.proofwalk(\/|$)/.test(name) && !leaveOut.includes(name))
      state[name] = await entryState(join(dir, name))
  }
  return state
}

async function entryState(path: string): Promise<string> {
  const seen = await lstat(path)
  if (seen.isSymbolicLink()) return `link to ${await readlink(path)}`
  if (seen.isDirectory()) return 'folder'
  if (!seen.isFile()) return 'special'
  try {
    return createHash('sha256')
      .update(await readFile(path))
      .digest('hex')
  } catch {
    return 'locked'
  }
}
