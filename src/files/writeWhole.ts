import { randomBytes } from 'node:crypto'
import { open, rename, rm } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { ProofwalkError } from '../errors.js'

const FOLDER_IN_THE_WAY = {
  reason: 'a folder has this name',
  mend: 'move it or choose another name',
}
const NOT_ALLOWED = { reason: 'it is not allowed', mend: 'allow writing there or choose another place' }
const DISK_FULL = { reason: 'the disk is full', mend: 'make room on the disk' }

const reasons: Readonly<Record<string, { readonly reason: string; readonly mend: string }>> = {
  ENOENT: { reason: 'its folder is not there', mend: 'make the folder first' },
  ENOTDIR: { reason: 'its folder is no folder but a file', mend: 'name a folder that is one' },
  EISDIR: FOLDER_IN_THE_WAY,
  EEXIST: FOLDER_IN_THE_WAY,
  EACCES: NOT_ALLOWED,
  EPERM: NOT_ALLOWED,
  EROFS: { reason: 'the disk takes no writing', mend: 'choose a place that can be written to' },
  ENOSPC: DISK_FULL,
  EDQUOT: DISK_FULL,
  ENAMETOOLONG: { reason: 'its name is too long', mend: 'choose a shorter one' },
}

/** Why the system would not write, in words, and the mend; null for what is no fault of the user's. */
export function writeFault(error: unknown): { readonly reason: string; readonly mend: string } | null {
  return reasons[(error as NodeJS.ErrnoException).code ?? ''] ?? null
}

/**
 * Writes a file so that readers find the old one or the new one and never a part: the bytes go to a hidden file
 * beside it, reach the disk, and take its name in one step. On failure the hidden file is removed and the old file
 * stays as it was.
 * @throws `ProofwalkError` `cannot-write`
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
    const fault = writeFault(error)
    if (fault === null) throw error
    const place = { file, mend: fault.mend }
    throw new ProofwalkError('cannot-write', `cannot be written: ${fault.reason}`, place)
  }
}
