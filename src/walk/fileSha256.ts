import { createHash, webcrypto } from 'node:crypto'
import { type FileHandle, lstat, open } from 'node:fs/promises'

/** Read at a time, bytes: one buffer serves a whole file, however large it is. */
const CHUNK_BYTES = 1 << 20
/** Up to this many bytes a file is read whole and hashed on a thread of its own, so that several at once use every core. */
const WHOLE_BYTES = 32 << 20

/** A buffer to hash files through, one after another: handed in where there are many, so that none is made for each. */
export function hashingBuffer(): Buffer {
  return Buffer.allocUnsafeSlow(CHUNK_BYTES)
}

/** SHA-256 of a file's bytes in hexadecimal; null where there is no plain file to read. A `buffer` serves one large file at a time. */
export async function fileSha256(path: string, buffer?: Buffer): Promise<string | null> {
  try {
    const facts = await lstat(path)
    if (!facts.isFile()) return null
    const handle = await open(path)
    try {
      if (facts.size > WHOLE_BYTES) return await hashInPieces(handle, buffer ?? hashingBuffer())
      const digest = await webcrypto.subtle.digest('SHA-256', await handle.readFile())
      return Buffer.from(digest).toString('hex')
    } finally {
      await handle.close()
    }
  } catch {
    return null
  }
}

async function hashInPieces(handle: FileHandle, buffer: Buffer): Promise<string> {
  const hash = createHash('sha256')
  for (;;) {
    const { bytesRead } = await handle.read(buffer, 0, buffer.length)
    if (bytesRead === 0) return hash.digest('hex')
    hash.update(buffer.subarray(0, bytesRead))
  }
}
