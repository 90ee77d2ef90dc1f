import { createHash } from 'node:crypto'
import { lstat, readFile } from 'node:fs/promises'

/** SHA-256 of a file's bytes in hexadecimal; null where there is no plain file to read. */
export async function fileSha256(path: string): Promise<string | null> {
  try {
    if (!(await lstat(path)).isFile()) return null
    return createHash('sha256')
      .update(await readFile(path))
      .digest('hex')
  } catch {
    return null
  }
}
