import { readFile, stat } from 'node:fs/promises'
import { fault } from '../sentences.js'
import { filesSays } from './sentences.js'

/**
 * Reads a file that was named, links followed. A pipe, a socket or a device is never opened: it may be waited for for ever.
 * @throws `ProofwalkError` `not-a-file`; what `stat` and `readFile` throw
 */
export async function readOrdinaryFile(file: string): Promise<Buffer> {
  const facts = await stat(file)
  // A folder has a reason of its own, which reading it gives.
  if (!facts.isFile() && !facts.isDirectory()) throw fault(filesSays['not-a-file'](), { file })
  return readFile(file)
}
