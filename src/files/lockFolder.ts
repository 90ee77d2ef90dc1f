import { randomBytes } from 'node:crypto'
import { readFile, realpath, rename, rm, stat, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fault } from '../sentences.js'
import { sha256Of } from './fileSha256.js'
import { filesSays } from './sentences.js'
import { writeFault } from './writeWhole.js'

/** A change takes milliseconds: who waits longer than this gives up, and a lock older than that is of a process that was killed. This project's convention. */
const GIVE_UP_AFTER_MS = 10_000
const LOOK_AGAIN_AFTER_MS = 15

/**
 * Runs `change` while no other process of this machine changes the same folder through this function. The lock is a file outside the folder, so
 * that nothing is left in it; one whose process is gone is taken over.
 * @throws `ProofwalkError` `walk-busy` where it stays locked, `cannot-write` where it is gone or no lock can be written
 */
export async function lockFolder<Value>(dir: string, change: () => Promise<Value>): Promise<Value> {
  const name = sha256Of(await placeOf(dir)).slice(0, 32)
  const file = join(tmpdir(), `proofwalk-${process.getuid?.() ?? 'user'}-${name}.lock`)
  const own = `${process.pid} ${randomBytes(8).toString('hex')}`
  const since = Date.now()
  while (!(await take(file, own))) {
    if (Date.now() - since > GIVE_UP_AFTER_MS) throw fault(filesSays['folder-busy'](), { file: dir })
    await new Promise((resolve) => setTimeout(resolve, LOOK_AGAIN_AFTER_MS))
  }
  try {
    return await change()
  } finally {
    if ((await readFile(file, 'utf8').catch(() => '')) === own) await rm(file, { force: true })
  }
}

async function placeOf(dir: string): Promise<string> {
  try {
    return await realpath(dir)
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw writeFault(error, dir)
    throw fault(filesSays['folder-gone'](), { file: dir })
  }
}

async function take(file: string, own: string): Promise<boolean> {
  try {
    await writeFile(file, own, { flag: 'wx', mode: 0o600 })
    return true
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw writeFault(error, file)
  }
  const holder = await readFile(file, 'utf8').catch(() => null)
  const isDead = holder !== null && holder !== '' && !isAlive(Number(holder.split(' ')[0]))
  if (holder !== null && (isDead || (await isOld(file)))) await takeOver(file, holder)
  return false
}

/** Moves a dead process' lock away; only the one that was looked at, so that a new holder's is put back. */
async function takeOver(file: string, dead: string): Promise<void> {
  const aside = `${file}.${randomBytes(6).toString('hex')}`
  try {
    await rename(file, aside)
    if ((await readFile(aside, 'utf8')) === dead) await rm(aside, { force: true })
    else await rename(aside, file)
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error
  }
}

/** Its process' number may be another's by now, or it was killed before it wrote one. */
async function isOld(file: string): Promise<boolean> {
  const facts = await stat(file).catch(() => null)
  return facts !== null && Date.now() - facts.mtimeMs > GIVE_UP_AFTER_MS
}

function isAlive(pid: number): boolean {
  if (!Number.isInteger(pid) || pid <= 0) return false
  try {
    process.kill(pid, 0)
    return true
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM'
  }
}
