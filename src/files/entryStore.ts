import { createHash } from 'node:crypto'
import { constants } from 'node:fs'
import { lstat, mkdir, open, readdir, rm, stat } from 'node:fs/promises'
import { dirname, join } from 'node:path'
import { deserialize, serialize } from 'node:v8'
import type { Said } from '../sentences.js'
import { filesSays, STORE_GOES_ON, WRITE_REASONS } from './sentences.js'
import { putWhole } from './writeWhole.js'

/** Values kept in a folder by name, to be had again by a later process. Nothing fails by it: what cannot be read is as if it were not there, what cannot be written is not kept. */
export interface EntryStore {
  /** Whether nothing was kept when it was opened. */
  readonly isEmpty: boolean
  /** What was kept under a name; undefined where nothing whole was. */
  get(name: string): Promise<unknown>
  put(name: string, value: unknown): Promise<void>
  /** Where anything was put: removes what was put longest ago until the rest takes no more than `mostBytes`. */
  sweep(mostBytes: number): Promise<void>
}

const DIGEST_BYTES = 32
/** No entry is longer: this project's convention. */
const LONGEST_ENTRY_BYTES = 100_000_000

/**
 * Opens the store in a folder, which is made where it is needed; its parent too. A folder that is a link is never followed. `onFault` is told once why nothing can be kept.
 */
export async function openEntryStore(dir: string, onFault: (said: Said) => void): Promise<EntryStore> {
  let isUsable = (await isOwnFolder(dirname(dir))) && (await isOwnFolder(dir))
  if (!isUsable) onFault(faultOf({ code: 'ENOTDIR' }))
  const names = new Set(isUsable ? await readdir(dir).catch(() => []) : [])
  let isChanged = false
  const giveUp = (error: unknown): void => {
    if (isUsable) onFault(faultOf(error))
    isUsable = false
  }
  return {
    isEmpty: names.size === 0,
    async get(name) {
      if (!names.has(name)) return undefined
      return readEntry(dir, name).catch(() => undefined)
    },
    async put(name, value) {
      if (!isUsable) return
      try {
        // Never what lies above them: a stick that was pulled out is not made anew where it was.
        for (const own of [dirname(dir), dir]) await mkdir(own).catch(exceptThere)
        const body = serialize(value)
        await putWhole(join(dir, name), Buffer.concat([digestOf(name, body), body]))
        names.add(name)
        isChanged = true
      } catch (error) {
        giveUp(error)
      }
    },
    async sweep(mostBytes) {
      if (isChanged) await sweepFolder(dir, mostBytes).catch(giveUp)
    },
  }
}

/** Whether it is a folder, or is not there yet. */
async function isOwnFolder(dir: string): Promise<boolean> {
  const facts = await lstat(dir).catch(() => null)
  return facts === null || facts.isDirectory()
}

function exceptThere(error: NodeJS.ErrnoException): void {
  if (error.code !== 'EEXIST') throw error
}

async function readEntry(dir: string, name: string): Promise<unknown> {
  const flags = constants.O_RDONLY | (constants.O_NOFOLLOW ?? 0) | (constants.O_NONBLOCK ?? 0)
  const file = await open(join(dir, name), flags)
  try {
    const facts = await file.stat()
    if (!facts.isFile() || facts.size > LONGEST_ENTRY_BYTES) return undefined
    const bytes = await file.readFile()
    const body = bytes.subarray(DIGEST_BYTES)
    return digestOf(name, body).equals(bytes.subarray(0, DIGEST_BYTES)) ? deserialize(body) : undefined
  } finally {
    await file.close()
  }
}

/** Of an entry with its name, so that one copied to another's place is not believed. */
function digestOf(name: string, body: Uint8Array): Buffer {
  return createHash('sha256').update(name).update('\n').update(body).digest()
}

/** An entry is written within this, ms; what is older was left by a process that was killed. This project's convention. */
const WRITTEN_WITHIN_MS = 60_000

async function sweepFolder(dir: string, mostBytes: number): Promise<void> {
  const entries: { path: string; bytes: number; at: number }[] = []
  for (const name of await readdir(dir)) {
    const path = join(dir, name)
    const facts = await stat(path).catch(() => null)
    if (name.endsWith('.part')) {
      // What another process is just writing is left to it.
      const isLeft = facts !== null && Math.abs(Date.now() - facts.mtimeMs) > WRITTEN_WITHIN_MS
      if (isLeft) await rm(path, { force: true })
    } else if (facts?.isFile()) entries.push({ path, bytes: facts.size, at: facts.mtimeMs })
  }
  let bytes = entries.reduce((sum, entry) => sum + entry.bytes, 0)
  for (const entry of entries.sort((one, other) => one.at - other.at)) {
    if (bytes <= mostBytes) break
    await rm(entry.path, { force: true })
    bytes -= entry.bytes
  }
}

function faultOf(error: unknown): Said {
  const { code = '', message = code } = error as Partial<NodeJS.ErrnoException>
  return filesSays['cannot-write'](WRITE_REASONS[code]?.reason ?? message, STORE_GOES_ON)
}
