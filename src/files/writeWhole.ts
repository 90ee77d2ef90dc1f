import { randomBytes } from 'node:crypto'
import { type FileHandle, lstat, open, readdir, rename, rm } from 'node:fs/promises'
import { basename, dirname, join } from 'node:path'
import { ProofwalkError } from '../errors.js'
import { fault } from '../sentences.js'
import { DISK_REASONS, filesSays, WRITE_REASONS } from './sentences.js'

/** What is told where the system would not write a file; the error itself where that is no fault of the user's. */
export function writeFault(error: unknown, file: string): unknown {
  const why = WRITE_REASONS[(error as NodeJS.ErrnoException).code ?? '']
  return why === undefined ? error : fault(filesSays['cannot-write'](why.reason, why.mend), { file })
}

/** What is told of an error of the disk, wherever it came up; null for any other. */
export function diskFault(error: unknown): ProofwalkError | null {
  if (error instanceof ProofwalkError) return error
  const { code = '', path, dest = path } = error as NodeJS.ErrnoException & { readonly dest?: string }
  const why = DISK_REASONS[code]
  if (why === undefined) return null
  return fault(filesSays['disk-fault'](why.reason, why.mend), dest === undefined ? {} : { file: dest })
}

/**
 * Writes a file so that readers find the old one or the new one and never a part: the bytes go to a hidden file
 * beside it, reach the disk, and take its name in one step. On failure the hidden file is removed and the old file
 * stays as it was. What a killed process left beside it longer than a day ago goes.
 * @throws `ProofwalkError` `cannot-write`
 */
export async function writeWhole(file: string, bytes: string | Uint8Array): Promise<void> {
  try {
    await putWhole(file, bytes, (handle) => handle.sync())
  } catch (error) {
    throw writeFault(error, file)
  }
  await sweepLeftovers(dirname(file))
}

/**
 * The same without the wait for the disk (a machine that loses its power may lose it, or leave it damaged) and without words for what the system would not.
 * @throws what the system throws
 */
export async function putWhole(
  file: string,
  bytes: string | Uint8Array,
  beforeNamed: (handle: FileHandle) => Promise<void> = () => Promise.resolve(),
): Promise<void> {
  const beside = join(dirname(file), `.${basename(file)}.${randomBytes(6).toString('hex')}.part`)
  try {
    const handle = await open(beside, 'wx')
    try {
      await handle.writeFile(bytes)
      await beforeNamed(handle)
    } finally {
      await handle.close()
    }
    await rename(beside, file)
  } catch (error) {
    await rm(beside, { force: true })
    throw error
  }
}

/** What is being written, by this file and where a whole folder is made beside the one it becomes. */
const LEFTOVER = /^\..+\.[0-9a-f]{12}\.part(\.old)?$/
const DAY_MS = 86_400_000

/** Removes from a folder what writing left half done more than a day ago; what cannot be removed stays. */
export async function sweepLeftovers(dir: string): Promise<void> {
  const names = await readdir(dir).catch((): string[] => [])
  for (const name of names.filter((one) => LEFTOVER.test(one))) {
    const path = join(dir, name)
    const facts = await lstat(path).catch(() => null)
    if (facts === null || Date.now() - facts.mtimeMs < DAY_MS) continue
    await rm(path, { recursive: true, force: true }).catch(() => undefined)
  }
}
