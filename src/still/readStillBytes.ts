import { constants } from 'node:fs'
import { lstat, open } from 'node:fs/promises'
import type { Outcome } from '../math/outcome.js'
import { failure, success } from '../math/outcome.js'
import { LARGEST_FILE_BYTES, type StillFault } from './stillFault.js'
import { stillSays } from './sentences.js'

/**
 * Reads a regular file once, whole, without changing it. Links, pipes, devices and directories are refused before they are
 * opened: a pipe would wait for ever. The file is opened so that one put in its place meanwhile is neither followed nor waited for.
 */
export async function readStillBytes(path: string): Promise<Outcome<Buffer, StillFault>> {
  try {
    const seen = await lstat(path)
    if (seen.isSymbolicLink()) return failure(stillSays['still-link']())
    if (!seen.isFile()) return failure(stillSays['still-not-a-file'](kindOf(seen)))
    const file = await open(
      path,
      constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0),
    )
    try {
      const opened = await file.stat()
      if (!opened.isFile()) return failure(stillSays['still-not-regular']())
      if (opened.size === 0) return failure(stillSays['still-empty']())
      if (opened.size > LARGEST_FILE_BYTES) {
        return failure(stillSays['still-too-long'](opened.size, LARGEST_FILE_BYTES))
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
    return failure(stillSays['still-missing']())
  }
  if (code === 'ELOOP') return failure(stillSays['still-link']())
  if (code === 'EACCES' || code === 'EPERM') {
    return failure(stillSays['still-not-allowed']())
  }
  return failure(stillSays['still-unreadable'](code))
}

function kindOf(seen: { isDirectory(): boolean; isFIFO(): boolean; isSocket(): boolean }): string {
  if (seen.isDirectory()) return 'folder'
  if (seen.isFIFO()) return 'pipe'
  return seen.isSocket() ? 'socket' : 'device'
}
