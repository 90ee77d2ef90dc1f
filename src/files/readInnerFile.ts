import { readFile, realpath, stat } from 'node:fs/promises'
import thisMachine, { join, type PlatformPath } from 'node:path'
import { ProofwalkError } from '../errors.js'
import { fault } from '../sentences.js'
import { filesSays } from './sentences.js'
import { diskFault } from './writeWhole.js'

/** No file of a walk is longer, bytes: neither YAML, which people write, nor what grows with the stills. More is a mistake. This project's convention. */
const MOST_YAML_BYTES = 8_000_000
const MOST_BYTES = 100_000_000

/**
 * Whether a path that exists, links followed, lies inside a folder, which is followed likewise.
 * @throws what `realpath` throws where either is not there
 */
export async function liesInside(dir: string, file: string): Promise<boolean> {
  return isInside(await realpath(dir), await realpath(file))
}

/** The same of two paths as they are written, by the rules of a kind of machine. */
export function isInside(dir: string, file: string, rules: PlatformPath = thisMachine): boolean {
  const path = rules.relative(dir, file)
  // From one drive to another there is no way but the whole one.
  return path !== '' && path !== '..' && !path.startsWith(`..${rules.sep}`) && !rules.isAbsolute(path)
}

/**
 * Reads a file of a walk by its path from the walk's folder; null where there is none. Pipes and devices are never
 * opened, links out of the walk not followed.
 * @throws `ProofwalkError`: `not-a-file`, `path-leaves-walk`, `unreadable`, `too-long`, `disk-fault`
 */
export async function readInnerFile(dir: string, path: string): Promise<Uint8Array | null> {
  const file = join(dir, path)
  try {
    const facts = await stat(file)
    if (!facts.isFile()) throw fault(filesSays['not-a-file'](), { file })
    if (!(await liesInside(dir, file))) throw fault(filesSays['path-leaves-walk'](), { file })
    const most = path.endsWith('.yaml') ? MOST_YAML_BYTES : MOST_BYTES
    if (facts.size > most) throw fault(filesSays['too-long'](most / 1e6), { file })
    return await readFile(file)
  } catch (error) {
    if (error instanceof ProofwalkError) throw error
    const { code } = error as NodeJS.ErrnoException
    if (code === 'ENOENT' || code === 'ENOTDIR') return null
    if (code === 'EACCES' || code === 'EPERM') throw fault(filesSays.unreadable(), { file })
    if (code === 'ELOOP') throw fault(filesSays['link-in-a-circle'](), { file })
    throw diskFault(error) ?? error
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
    throw fault(filesSays['not-utf8'](), { file })
  }
  if (text.trim() === '') throw fault(filesSays['empty-file'](), { file })
  return text
}

/** What the bytes of a JSON file hold; null where they are no JSON. */
export function jsonOrNull(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(bytes))
  } catch {
    return null
  }
}
