import { stat } from 'node:fs/promises'
import { join, normalize } from 'node:path'
import { ProofwalkError, ProofwalkErrors } from '../../errors.js'
import { sha256Of } from '../../files/fileSha256.js'
import { fault } from '../../sentences.js'
import { parseWalk } from './parseWalk.js'
import { readGrading } from './readGrading.js'
import { filesSays } from '../../files/sentences.js'
import { readInnerFile, textOf } from '../../files/readInnerFile.js'
import { readSays } from './sentences.js'
import type { Walk } from './walk.js'

/**
 * Reads the walk of a folder: its walk.yaml, and the grading file that names. Nothing is written, no still opened.
 * @throws `ProofwalkErrors` with every fault found
 */
export async function readWalk(dir: string): Promise<Walk> {
  try {
    await expectFolder(dir)
    const file = join(dir, 'walk.yaml')
    const bytes = await readInnerFile(dir, 'walk.yaml')
    if (bytes === null) throw fault(readSays['no-walk'](dir, await walkAround(dir)), { file: dir })
    return await parseWalk(textOf(bytes, file), {
      file,
      dir,
      sha256: sha256Of(bytes),
      findGrading: (named) => readGrading(dir, named),
    })
  } catch (error) {
    if (error instanceof ProofwalkError && !(error instanceof ProofwalkErrors))
      throw new ProofwalkErrors([error])
    throw error
  }
}

/** How far up a walk is looked for from one of its own folders: stills/, and a light's folder in it. */
const FOLDERS_UP = 2

/** The folder around this one that is a walk, written as this one was; null where there is none. */
export async function walkAround(dir: string): Promise<string | null> {
  for (let up = 1; up <= FOLDERS_UP; up++) {
    const parent = normalize(join(dir, '../'.repeat(up), '.'))
    const facts = await stat(join(parent, 'walk.yaml')).catch(() => null)
    if (facts?.isFile()) return parent
  }
  return null
}

async function expectFolder(dir: string): Promise<void> {
  try {
    if ((await stat(dir)).isDirectory()) return
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException
    if (code === 'ENOENT') throw fault(readSays['no-folder'](dir), { file: dir })
    if (code === 'EACCES') throw fault(filesSays.unreadable(), { file: dir })
    if (code !== 'ENOTDIR') throw error
  }
  throw fault(readSays['not-a-folder'](), { file: dir })
}
