import { randomBytes } from 'node:crypto'
import { mkdir, readdir, readFile, realpath, rename, rm } from 'node:fs/promises'
import { basename, dirname, join, resolve } from 'node:path'
import { fault, type Said } from '../../sentences.js'
import { sweepLeftovers, writeFault } from '../../files/writeWhole.js'
import { simulateSays } from '../sentences.js'

/** By what an earlier demonstration of a kind is known, and the stills its folder may hold. */
export interface DemoKind {
  /** Of its walk.yaml. */
  readonly firstLine: string
  readonly stills: readonly string[]
}

/** What a demonstration's folder may hold, its stills apart. */
const OWN_FILES = [
  'walk.yaml',
  'picks.json',
  'cards.json',
  'readings.json',
  'results.json',
  'plan.pdf',
  'sheet.pdf',
]

/** Below it lies what may be deleted. */
const CACHE = '.proofwalk/'

/** A folder in the making beside the one that was asked for. */
export interface ClaimedFolder {
  /** Where to write. */
  readonly making: string
  /** Puts it in place of what was there before. */
  finish(): Promise<void>
  /** Removes it; what was there before stays. */
  abandon(): Promise<void>
}

/**
 * Makes an empty folder beside `dir` to write a demonstration in.
 * @throws `ProofwalkError` `folder-in-use` where `dir` holds anything but an earlier demonstration, `cannot-write` where nothing can be made there
 */
export async function claimDemoFolder(dir: string, kind: DemoKind): Promise<ClaimedFolder> {
  const wanted = await realpath(dir).catch(() => resolve(dir))
  await refuseOthers(dir, wanted, kind)
  const making = join(dirname(wanted), `.${basename(wanted)}.${randomBytes(6).toString('hex')}.part`)
  try {
    await mkdir(making, { recursive: true })
  } catch (error) {
    throw writeFault(error, dir)
  }
  return {
    making,
    finish: async () => {
      const old = `${making}.old`
      const stood = await rename(wanted, old).then(
        () => true,
        () => false,
      )
      try {
        await rename(making, wanted)
      } catch (error) {
        if (stood) await rename(old, wanted)
        throw error
      }
      if (stood) await rm(old, { recursive: true, force: true })
      await sweepLeftovers(dirname(wanted))
    },
    abandon: () => rm(making, { recursive: true, force: true }),
  }
}

async function refuseOthers(dir: string, wanted: string, { firstLine, stills }: DemoKind): Promise<void> {
  const refuse = (said: Said): never => {
    throw fault(said, { file: dir })
  }
  let names: string[]
  try {
    const entries = await readdir(wanted, { recursive: true, withFileTypes: true })
    names = entries
      .filter((entry) => !entry.isDirectory())
      .map((entry) => join(entry.parentPath, entry.name).slice(wanted.length + 1))
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return
    return refuse(simulateSays['folder-unreadable']())
  }
  if (names.length === 0) return
  const first = (await readFile(join(wanted, 'walk.yaml'), 'utf8').catch(() => '')).split('\n', 1)[0]
  if (first !== firstLine) refuse(simulateSays['folder-of-others']())
  const own = new Set([...OWN_FILES, ...stills])
  const strange = names
    .map((name) => name.replaceAll('\\', '/'))
    .find((name) => !own.has(name) && !name.startsWith(CACHE))
  if (strange !== undefined) refuse(simulateSays['folder-with-more'](strange))
}
