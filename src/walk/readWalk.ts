import { createHash } from 'node:crypto'
import { stat } from 'node:fs/promises'
import { join } from 'node:path'
import { ProofwalkError, ProofwalkErrors } from '../errors.js'
import { parseWalk } from './parseWalk.js'
import { readGrading } from './readGrading.js'
import { readInnerFile, textOf } from './readInnerFile.js'
import type { Walk } from './walk.js'

/**
 * Reads the walk of a folder: its walk.yaml, and the grading file that names. Nothing is written, no still opened.
 * Throws `ProofwalkErrors` with every fault found.
 */
export async function readWalk(dir: string): Promise<Walk> {
  try {
    await expectFolder(dir)
    const file = join(dir, 'walk.yaml')
    const bytes = await readInnerFile(dir, 'walk.yaml')
    if (bytes === null) {
      const place = { file: dir, mend: `proofwalk new ${dir} makes one` }
      throw new ProofwalkError('no-walk', 'has no walk.yaml', place)
    }
    return await parseWalk(textOf(bytes, file), {
      file,
      dir,
      sha256: createHash('sha256').update(bytes).digest('hex'),
      findGrading: (named) => readGrading(dir, named),
    })
  } catch (error) {
    if (error instanceof ProofwalkError && !(error instanceof ProofwalkErrors))
      throw new ProofwalkErrors([error])
    throw error
  }
}

async function expectFolder(dir: string): Promise<void> {
  const fault = (code: string, message: string, mend: string) =>
    new ProofwalkError(code, message, { file: dir, mend })
  try {
    if ((await stat(dir)).isDirectory()) return
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException
    if (code === 'ENOENT') throw fault('no-folder', 'is not there', `proofwalk new ${dir} makes a walk there`)
    if (code === 'EACCES') throw fault('unreadable', 'cannot be read', 'allow reading it')
    if (code !== 'ENOTDIR') throw error
  }
  throw fault('not-a-folder', 'is no folder', 'name the folder that holds walk.yaml')
}
