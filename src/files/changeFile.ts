import { type FileHandle, open } from 'node:fs/promises'
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
    let there = await rested(dir, path)
    let base = there
    for (let tries = 0; tries < TRIES; tries++) {
      const text = await change(base === null ? null : textOf(base, file))
      if (text === null && base === there) return
      const written = text ?? textOf(base!, file)
      const now = await rested(dir, path)
      if (!sameBytes(there, now)) {
        base = there = now
        continue
      }
      const late = await writtenLate(file, there, () => writeWhole(file, written))
      if (late === null) return
      // It was written on what stood there before: ours goes on top of it.
      base = late
      there = new TextEncoder().encode(written)
    }
    throw fault(filesSays['walk-busy'](), { file })
  })
}

/** The file's bytes; one that an editor has just emptied to write it anew is waited for. */
async function rested(dir: string, path: string): Promise<Uint8Array | null> {
  for (let tries = 1; ; tries++) {
    const bytes = await readInnerFile(dir, path)
    if (bytes?.length !== 0 || tries === TRIES) return bytes
    await sleep(LATE_MS)
  }
}

const sleep = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms))

/** An editor that has begun to write in place has done so within this, ms: this project's convention. */
const LATE_MS = 25

/**
 * Puts a new file in the place of one that holds `before`; what another program writes into the old one in that moment, through the handle it has, or null. What is
 * half written is not taken for it.
 */
async function writtenLate(
  file: string,
  before: Uint8Array | null,
  replace: () => Promise<void>,
): Promise<Uint8Array | null> {
  // Windows replaces no file that is held open.
  const isHeld = before !== null && process.platform !== 'win32'
  const old = isHeld ? await open(file, 'r').catch(() => null) : null
  try {
    await replace()
    if (old === null || before === null) return null
    let seen: Uint8Array = before
    for (;;) {
      await sleep(LATE_MS)
      const now = await wholeOf(old)
      if (sameBytes(now, seen)) break
      seen = now
    }
    return seen.length === 0 || sameBytes(seen, before) ? null : seen
  } finally {
    await old?.close()
  }
}

async function wholeOf(handle: FileHandle): Promise<Uint8Array> {
  const { size } = await handle.stat()
  const bytes = new Uint8Array(size)
  const { bytesRead } = await handle.read(bytes, 0, size, 0)
  return bytes.subarray(0, bytesRead)
}

function sameBytes(one: Uint8Array | null, other: Uint8Array | null): boolean {
  return one === null || other === null ? one === other : Buffer.compare(one, other) === 0
}

/** A short name of what an entry says, by which a change tells whether it is still the one it was made for: the same words, the same name. */
export function entryVersion(entry: unknown): string {
  return sha256Of(JSON.stringify(entry)).slice(0, 16)
}
