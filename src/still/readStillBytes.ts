import { constants } from 'node:fs'
import { lstat, open } from 'node:fs/promises'
import type { Outcome } from '../math/outcome.js'
import { failure, success } from '../math/outcome.js'
import { LARGEST_FILE_BYTES, type StillFault } from './stillFault.js'

/**
 * Reads a regular file once, whole, without changing it. Links, pipes, devices and directories are refused before they are
 * opened: a pipe would wait for ever. The file is opened so that one put in its place meanwhile is neither followed nor waited for.
 */
export async function readStillBytes(path: string): Promise<Outcome<Buffer, StillFault>> {
  try {
    const seen = await lstat(path)
    if (seen.isSymbolicLink()) return failure('still-link', 'it is a link; put the still itself there')
    if (!seen.isFile())
      return failure('still-not-a-file', `it is a ${kindOf(seen)}; put a picture file there`)
    const file = await open(
      path,
      constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0),
    )
    try {
      const opened = await file.stat()
      if (!opened.isFile())
        return failure('still-not-a-file', 'it is no regular file; put a picture file there')
      if (opened.size === 0) return failure('still-empty', 'the file is empty; export the still again')
      if (opened.size > LARGEST_FILE_BYTES) {
        return failure(
          'still-too-large',
          `the file has ${Math.round(opened.size / 1e6)} MB, at most ${LARGEST_FILE_BYTES / 1e6} MB are read; export a single still`,
        )
      }
      return success(await file.readFile())
    } finally {
      await file.close()
    }
  } catch (error) {
    return faultOfReading(error)
  }
}

/** The reason behind an error of the file system, in the reader's words. */
export function faultOfReading(error: unknown): Outcome<never, StillFault> {
  const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown'
  if (code === 'ENOENT' || code === 'ENOTDIR') {
    return failure('still-missing', 'there is no such file; check its name')
  }
  if (code === 'ELOOP') return failure('still-link', 'it is a link; put the still itself there')
  if (code === 'EACCES' || code === 'EPERM') {
    return failure('still-unreadable', 'it may not be read; give yourself the right to read it')
  }
  return failure('still-unreadable', `it could not be read (${code}); copy it here again`)
}

function kindOf(seen: { isDirectory(): boolean; isFIFO(): boolean; isSocket(): boolean }): string {
  if (seen.isDirectory()) return 'folder'
  if (seen.isFIFO()) return 'pipe'
  return seen.isSocket() ? 'socket' : 'device'
}
