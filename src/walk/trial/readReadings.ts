import { join } from 'node:path'
import { sha256Of } from '../../files/fileSha256.js'
import { jsonOrNull, readInnerFile } from '../../files/readInnerFile.js'
import { fault } from '../../sentences.js'
import { readingsSchema, type Readings } from '../schemas/readingsSchema.js'
import { trialSays } from './sentences.js'

export const READINGS_FILE = 'readings.json'

/** The readings of a walk's folder, and the hash of their file; null where there was no trial. */
export interface FoundReadings extends Readings {
  readonly sha256: string
}

/** @throws `ProofwalkError` `bad-readings` where the file is there and is none */
export async function readReadings(dir: string): Promise<FoundReadings | null> {
  const bytes = await readInnerFile(dir, READINGS_FILE)
  return bytes === null
    ? null
    : { ...parseReadings(bytes, join(dir, READINGS_FILE)), sha256: sha256Of(bytes) }
}

/** @throws `ProofwalkError` `bad-readings` */
export function parseReadings(bytes: Uint8Array, file: string): Readings {
  const parsed = readingsSchema.safeParse(jsonOrNull(bytes))
  if (!parsed.success) throw fault(trialSays['bad-readings'](), { file })
  return parsed.data
}
