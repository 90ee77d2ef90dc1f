import { lstat, open } from 'node:fs/promises'
import { ProofwalkError } from '../errors.js'

/**
 * A slip of the pen must not replace walk.yaml, a still, or anything else that is no PDF; `option` is what named the file.
 * @throws `ProofwalkError` `not-a-pdf`
 */
export async function expectNoOtherFile(file: string, option = '--out'): Promise<void> {
  const seen = await lstat(file).catch(() => null)
  if (seen === null || seen.isDirectory() || (seen.isFile() && seen.size === 0)) return
  if (seen.isFile() && (await beginsAsPdf(file))) return
  throw new ProofwalkError('not-a-pdf', 'is there already, is no PDF, and is not overwritten', {
    file,
    mend: `name another file with ${option}, or move it away`,
  })
}

async function beginsAsPdf(file: string): Promise<boolean> {
  const handle = await open(file)
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(5), 0, 5, 0)
    return buffer.toString('latin1', 0, bytesRead) === '%PDF-'
  } finally {
    await handle.close()
  }
}
