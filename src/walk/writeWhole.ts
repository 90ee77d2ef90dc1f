import { randomBytes } from 'node:crypto'
import { open, rename, rm } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { ProofwalkError } from '../errors.js'

const mends: Readonly<Record<string, string>> = {
  ENOENT: 'make the folder first',
  ENOTDIR: 'name a folder that is one',
  EISDIR: 'a folder has this name; move it or choose another name',
  EEXIST: 'a folder has this name; move it or choose another name',
  EACCES: 'allow writing there or choose another place',
  EPERM: 'allow writing there or choose another place',
  EROFS: 'choose a place that can be written to',
  ENOSPC: 'make room on the disk',
  EDQUOT: 'make room on the disk',
}

/**
 * Writes a file so that readers find the old one or the new one and never a part: the bytes go to a hidden file
 * beside it, reach the disk, and take its name in one step. On failure the hidden file is removed and the old file
 * stays as it was. Throws `ProofwalkError` `cannot-write`.
 */
export async function writeWhole(file: string, bytes: string | Uint8Array): Promise<void> {
  const beside = join(dirname(file), `.${basename(file)}.${randomBytes(6).toString('hex')}.part`)
  try {
    const handle = await open(beside, 'wx')
    try {
      await handle.writeFile(bytes)
      await handle.sync()
    } finally {
      await handle.close()
    }
    await rename(beside, file)
  } catch (error) {
    await rm(beside, { force: true })
    const code = (error as NodeJS.ErrnoException).code ?? ''
    const mend = mends[code]
    if (mend === undefined) throw error
    throw new ProofwalkError('cannot-write', `cannot be written (${code})`, { file, mend })
  }
}
