import { createHash } from 'node:crypto'
import { lstat, open } from 'node:fs/promises'
import { failure, success, type Outcome } from '../math/outcome.js'

/** Read at a time, bytes: one buffer serves a whole file, however large it is. */
const CHUNK_BYTES = 1 << 20

/** SHA-256 of bytes, or of a text's UTF-8, in hexadecimal. */
export function sha256Of(bytes: Uint8Array | string): string {
  return createHash('sha256').update(bytes).digest('hex')
}

/** Buffers that files are hashed through, those that no file needs now. */
const spare: Buffer[] = []

/** SHA-256 of a file's bytes in hexadecimal, piece by piece; null where there is no plain file that can be read. */
export async function fileSha256(path: string): Promise<string | null> {
  const hash = await hashFile(path)
  return hash.ok ? hash.value : null
}

/** The same; its reason is the system's code, or `not-a-file`. */
export async function hashFile(path: string): Promise<Outcome<string>> {
  const buffer = spare.pop() ?? Buffer.allocUnsafeSlow(CHUNK_BYTES)
  try {
    if (!(await lstat(path)).isFile()) return failure({ code: 'not-a-file', message: '' })
    const handle = await open(path)
    try {
      const hash = createHash('sha256')
      for (;;) {
        const { bytesRead } = await handle.read(buffer, 0, buffer.length)
        if (bytesRead === 0) return success(hash.digest('hex'))
        hash.update(buffer.subarray(0, bytesRead))
      }
    } finally {
      await handle.close()
    }
  } catch (error) {
    const { code = 'unknown', message } = error as NodeJS.ErrnoException
    return failure({ code, message })
  } finally {
    spare.push(buffer)
  }
}
