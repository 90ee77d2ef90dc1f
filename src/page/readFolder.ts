import { createHash } from 'node:crypto'
import { join } from 'node:path'
import { planMeasuring, type MeasuringPlan } from '../walk/measureWalk.js'
import { folderState, fileStamp } from '../walk/folderState.js'
import { readInnerFile, textOf } from '../walk/readInnerFile.js'
import { readWalk } from '../walk/readWalk.js'
import type { Walk } from '../walk/walk.js'
import { writtenStills, type WrittenStill } from '../walk/writtenStills.js'

/** A walk's folder as it was found at one time. */
export interface FolderReading {
  readonly walk: Walk
  readonly plan: MeasuringPlan
  /** The entries under `stills` in the words of walk.yaml, by the path they are compared by. */
  readonly written: ReadonlyMap<string, WrittenStill>
  /** Changes with the file, by the still's path. */
  readonly stamps: ReadonlyMap<string, string>
  /** As `folderState` saw it before anything was read: what changes later shows against it. */
  readonly state: ReadonlyMap<string, string>
}

/** An editor that saves just now is waited for so many times. */
const TRIES = 4

/** Reads a walk's folder: walk.yaml, picks.json and which stills there are; no still is opened. Throws `ProofwalkErrors` with every fault. */
export async function readFolder(dir: string): Promise<FolderReading> {
  for (let tries = 1; ; tries++) {
    const state = await folderState(dir)
    const walk = await readWalk(dir)
    const bytes = (await readInnerFile(dir, 'walk.yaml')) ?? new Uint8Array()
    const isSame = createHash('sha256').update(bytes).digest('hex') === walk.walkSha256
    if (!isSame && tries < TRIES) continue
    const plan = await planMeasuring(walk)
    const files = [...plan.found.assigned, ...plan.found.unassigned].map(({ file }) => file)
    const stamps = files.map(
      async (file) => [file, state.get(file) ?? (await fileStamp(join(dir, file)))] as const,
    )
    return {
      walk,
      plan,
      written: isSame ? writtenStills(textOf(bytes, join(dir, 'walk.yaml'))) : new Map(),
      stamps: new Map(await Promise.all(stamps)),
      state,
    }
  }
}
