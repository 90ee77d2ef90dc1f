import { access, constants, lstat, readdir, stat } from 'node:fs/promises'
import { join } from 'node:path'
import { failure, success, type Outcome } from '../../math/outcome.js'
import { filesSays } from '../../files/sentences.js'
import { liesInside } from '../../files/readInnerFile.js'
import type { Said } from '../../sentences.js'
import { stillsSays } from './sentences.js'
import { pictureByEnding } from './stillName.js'

/** A file under `stills/` or named by the walk; `facts` says why it cannot be opened, where it cannot. */
export interface FolderFile {
  /** Path from the walk's folder, with forward slashes. */
  readonly path: string
  readonly facts: Outcome<'file'>
  /** Whether it was seen in its folder, and not only named. */
  readonly isListed: boolean
}

/** Folders lie at most this deep under stills/; deeper ones are told and not entered. This project's convention. */
const MOST_DEPTH = 8

/**
 * Every file below `stills/` of a walk's folder, and those `named` elsewhere, sorted by the bytes of the path, each
 * once; bytes of a name that are no UTF-8 stand in it as \xe9. Pipes, sockets and devices are told and never opened; links are followed only to files inside the walk;
 * hidden files (a point first, Thumbs.db, desktop.ini) are passed over.
 * @throws what reading the folder itself throws
 */
export async function listStillFiles(dir: string, named: readonly string[]): Promise<FolderFile[]> {
  const listed = new Map<string, Outcome<'file'>>()
  await collect(dir, 'stills', 0, listed)
  const known = new Set([...listed.keys()].map((path) => path.normalize('NFC')))
  const others: FolderFile[] = []
  for (const path of new Set(named)) {
    if (!known.has(path.normalize('NFC')))
      others.push({ path, facts: await factsOf(dir, path, true), isListed: false })
  }
  return [...[...listed].map(([path, facts]) => ({ path, facts, isListed: true })), ...others].sort((a, b) =>
    Buffer.compare(Buffer.from(a.path), Buffer.from(b.path)),
  )
}

async function collect(
  dir: string,
  folder: string,
  depth: number,
  files: Map<string, Outcome<'file'>>,
): Promise<void> {
  const kind = await kindOf(join(dir, folder))
  if (kind === 'missing') return
  if (kind !== 'folder') {
    files.set(folder, await factsOf(dir, folder, false))
    return
  }
  let names: FoundName[]
  try {
    names = (await readdir(join(dir, folder), 'buffer')).map(foundName)
  } catch {
    files.set(folder, failure(stillsSays['folder-unreadable']()))
    return
  }
  for (const { name, isText } of names.filter((one) => !isHidden(one.name))) {
    const path = `${folder}/${name}`
    if (!isText) files.set(path, failure(stillsSays['name-no-text']()))
    else if ((await kindOf(join(dir, path))) !== 'folder') files.set(path, await factsOf(dir, path, false))
    else if (depth >= MOST_DEPTH) files.set(path, failure(stillsSays['folder-too-deep']()))
    else await collect(dir, path, depth + 1, files)
  }
}

interface FoundName {
  readonly name: string
  /** Whether it is UTF-8, so that the file can be named in a text. */
  readonly isText: boolean
}

function foundName(bytes: Buffer): FoundName {
  const name = bytes.toString('utf8')
  if (Buffer.from(name).equals(bytes)) return { name, isText: true }
  const shown = bytes
    .toString('latin1')
    .replace(/[^ -~]/g, (sign) => `\\x${sign.charCodeAt(0).toString(16).padStart(2, '0')}`)
  return { name: shown, isText: false }
}

/** The pictures that lie in a folder itself, by their endings; none where it may not be listed. */
export async function picturesIn(dir: string): Promise<string[]> {
  const entries = await readdir(dir, { withFileTypes: true }).catch(() => [])
  return entries
    .filter((entry) => !entry.isDirectory() && !isHidden(entry.name) && pictureByEnding(entry.name).ok)
    .map(({ name }) => name.normalize('NFC'))
}

function isHidden(name: string): boolean {
  return name.startsWith('.') || /^(thumbs\.db|desktop\.ini)$/i.test(name)
}

async function kindOf(file: string): Promise<'folder' | 'other' | 'missing'> {
  try {
    return (await lstat(file)).isDirectory() ? 'folder' : 'other'
  } catch {
    return 'missing'
  }
}

async function factsOf(dir: string, path: string, namedInWalk: boolean): Promise<Outcome<'file'>> {
  const file = join(dir, path)
  try {
    const own = await lstat(file)
    const facts = own.isSymbolicLink() ? await stat(file) : own
    if (!(await liesInside(dir, file))) return failure(stillsSays['path-leaves-walk']())
    if (!facts.isFile()) return failure(stillsSays['not-a-file'](facts.isDirectory()))
    await access(file, constants.R_OK)
    return success('file')
  } catch (error) {
    return failure(unreadable((error as NodeJS.ErrnoException).code, namedInWalk))
  }
}

function unreadable(code: string | undefined, namedInWalk: boolean): Said {
  if (code === 'EACCES' || code === 'EPERM') return filesSays.unreadable()
  if (code === 'ELOOP') return filesSays['link-in-a-circle']()
  if (code !== 'ENOENT' && code !== 'ENOTDIR') return stillsSays['unreadable-by-system'](code ?? 'unknown')
  return namedInWalk ? stillsSays['named-not-there']() : stillsSays['leads-nowhere']()
}
