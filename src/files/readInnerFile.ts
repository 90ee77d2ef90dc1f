import { readFile, realpath, stat } from 'node:fs/promises'
import { join, relative, sep } from 'node:path'
import { ProofwalkError } from '../errors.js'

/** No text file of a walk is longer, bytes; more is a mistake. This project's convention. */
const MOST_TEXT_BYTES = 8_000_000

/**
 * Whether a path that exists, links followed, lies inside a folder, which is followed likewise.
 * @throws what `realpath` throws where either is not there
 */
export async function liesInside(dir: string, file: string): Promise<boolean> {
  const path = relative(await realpath(dir), await realpath(file))
  return path !== '' && path !== '..' && !path.startsWith(`..${sep}`)
}

/**
 * Reads a file of a walk by its path from the walk's folder; null where there is none. Pipes and devices are never
 * opened, links out of the walk not followed.
 * @throws `ProofwalkError`: `not-a-file`, `path-leaves-walk`, `unreadable`, `too-long`
 */
export async function readInnerFile(dir: string, path: string): Promise<Uint8Array | null> {
  const file = join(dir, path)
  const fault = (code: string, message: string, mend: string) =>
    new ProofwalkError(code, message, { file, mend })
  try {
    const facts = await stat(file)
    if (!facts.isFile()) throw fault('not-a-file', 'is no ordinary file', 'put a file there')
    if (!(await liesInside(dir, file))) {
      throw fault('path-leaves-walk', "is a link out of the walk's folder", 'copy the file into the walk')
    }
    if (facts.size > MOST_TEXT_BYTES) {
      throw fault('too-long', `is longer than ${MOST_TEXT_BYTES / 1e6} MB`, 'check that it is the right file')
    }
    return await readFile(file)
  } catch (error) {
    if (error instanceof ProofwalkError) throw error
    const { code } = error as NodeJS.ErrnoException
    if (code === 'ENOENT' || code === 'ENOTDIR') return null
    if (code === 'EACCES' || code === 'EPERM') throw fault('unreadable', 'cannot be read', 'allow reading it')
    if (code === 'ELOOP')
      throw fault('unreadable', 'is a link that leads round in a circle', 'copy the file there')
    throw error
  }
}

/**
 * The text of a file in UTF-8.
 * @throws `ProofwalkError` `not-utf8`, or `empty-file` where nothing is in it
 */
export function textOf(bytes: Uint8Array, file: string): string {
  let text: string
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    throw new ProofwalkError('not-utf8', 'is no UTF-8 text', { file, mend: 'save it as UTF-8' })
  }
  if (text.trim() === '') {
    const mend = 'put a copy of it back, or delete it and make it anew'
    throw new ProofwalkError('empty-file', 'is empty', { file, mend })
  }
  return text
}
