import { createHash } from 'node:crypto'

/** A short name of what an entry says, by which a change tells whether it is still the one it was made for: the same words, the same name. */
export function entryVersion(entry: unknown): string {
  return createHash('sha256').update(JSON.stringify(entry)).digest('hex').slice(0, 16)
}
