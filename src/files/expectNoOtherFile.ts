import { lstat, open } from 'node:fs/promises'
import { fault } from '../sentences.js'
import { filesSays } from './sentences.js'

/**
 * A slip of the pen must not replace walk.yaml, a still, or anything else that is no PDF; `option` is what named the file.
 * @throws `ProofwalkError` `not-a-pdf`
 */
export async function expectNoOtherFile(file: string, option = '--out'): Promise<void> {
  const seen = await lstat(file).catch(() => null)
  if (seen === null || seen.isDirectory() || (seen.isFile() && seen.size === 0)) return
  if (seen.isFile() && (await beginsAsPdf(file))) return
  throw fault(filesSays['not-a-pdf'](option), { file })
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
