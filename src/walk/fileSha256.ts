import { createHash } from 'node:crypto'
import { lstat, open } from 'node:fs/promises'

/** Read at a time, bytes: one buffer serves a whole file, however large it is. */
const CHUNK_BYTES = 1 << 20

/** SHA-256 of a file's bytes in hexadecimal; null where there is no plain file to read. */
export async function fileSha256(path: string): Promise<string | null> {
  try {
    if (!(await lstat(path)).isFile()) return null
    const handle = await open(path)
    try {
      const hash = createHash('sha256')
      const buffer = Buffer.allocUnsafeSlow(CHUNK_BYTES)
      for (;;) {
        const { bytesRead } = await handle.read(buffer, 0, CHUNK_BYTES)
        if (bytesRead === 0) return hash.digest('hex')
        hash.update(buffer.subarray(0, bytesRead))
      }
    } finally {
      await handle.close()
    }
  } catch {
    return null
  }
}
