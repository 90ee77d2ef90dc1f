import { join } from 'node:path'
import { sha256Of } from './fileSha256.js'
import { lockFolder } from './lockFolder.js'
import { readInnerFile, textOf } from './readInnerFile.js'
import { writeWhole } from './writeWhole.js'
import { fault } from '../sentences.js'
import { filesSays } from './sentences.js'

/** Another program that writes the same file just now is given way to so many times. */
const TRIES = 5

/**
 * Changes a text file of a walk's folder, whole or not at all: `change` is given its text as it stands (null where there is no file) and returns the new
 * one, or null to leave it. Where somebody else wrote it meanwhile it is read and changed again, so that nobody's words are lost.
 * @throws what `change`, reading and writing throw, and `walk-busy` where the file never rests
 */
export async function changeFile(
  dir: string,
  path: string,
  change: (text: string | null) => Promise<string | null>,
): Promise<void> {
  const file = join(dir, path)
  await lockFolder(dir, async () => {
    for (let tries = 0; tries < TRIES; tries++) {
      const before = await readInnerFile(dir, path)
      const text = await change(before === null ? null : textOf(before, file))
      if (text === null) return
      const now = await readInnerFile(dir, path)
      if (!sameBytes(before, now)) continue
      await writeWhole(file, text)
      return
    }
    throw fault(filesSays['walk-busy'](), { file })
  })
}

function sameBytes(one: Uint8Array | null, other: Uint8Array | null): boolean {
  return one === null || other === null ? one === other : Buffer.compare(one, other) === 0
}

/** A short name of what an entry says, by which a change tells whether it is still the one it was made for: the same words, the same name. */
export function entryVersion(entry: unknown): string {
  return sha256Of(JSON.stringify(entry)).slice(0, 16)
}
