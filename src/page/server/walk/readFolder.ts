import { join } from 'node:path'
import { planMeasuring, type MeasuringPlan } from '../../../walk/measure/planMeasuring.js'
import { sha256Of } from '../../../files/fileSha256.js'
import { folderState, fileStamp } from '../../../files/folderState.js'
import { readInnerFile, textOf } from '../../../files/readInnerFile.js'
import { readWalk } from '../../../walk/read/readWalk.js'
import type { NamedStill, Walk } from '../../../walk/read/walk.js'
import { type AssignedStill, stillFilesOf, type UnassignedFile } from '../../../walk/stills/findStills.js'
import type { FolderFile } from '../../../walk/stills/listStillFiles.js'
import type { StillPick } from '../../../walk/read/readPicks.js'
import { writtenStills, type WrittenStill } from '../../../walk/change/writtenStills.js'

/** A walk's folder as it was found at one time. */
export interface FolderReading {
  readonly walk: Walk
  readonly plan: MeasuringPlan
  /** The entries under `stills` in the words of walk.yaml, by the path they are compared by. */
  readonly written: ReadonlyMap<string, WrittenStill>
  readonly listed: readonly FolderFile[]
  /** What becomes of each still, by its path. */
  readonly assigned: ReadonlyMap<string, AssignedStill>
  readonly unassigned: ReadonlyMap<string, UnassignedFile>
  /** Picks, one a reference, and the walk's own words on a still, by its path in NFC. */
  readonly picks: ReadonlyMap<string, readonly StillPick[]>
  readonly named: ReadonlyMap<string, NamedStill>
  /** Changes with the file, by the still's path. */
  readonly stamps: ReadonlyMap<string, string>
  /** As `folderState` saw it before anything was read: what changes later shows against it. */
  readonly state: ReadonlyMap<string, string>
}

/** An editor that saves just now is waited for so many times. */
const TRIES = 4
const OWN_FILES = ['walk.yaml', 'picks.json']

/**
 * Reads a walk's folder: walk.yaml, picks.json and which stills there are; no still is opened. After a change of those two files alone, the list of files is
 * taken from the reading `before`.
 * @throws `ProofwalkErrors` with every fault
 */
export async function readFolder(dir: string, before: FolderReading | null = null): Promise<FolderReading> {
  for (let tries = 1; ; tries++) {
    const state = before === null ? await folderState(dir) : await withOwnFiles(dir, before.state)
    const walk = await readWalk(dir)
    const bytes = (await readInnerFile(dir, 'walk.yaml')) ?? new Uint8Array()
    const isSame = sha256Of(bytes) === walk.walkSha256
    if (!isSame && tries < TRIES) continue
    const listed = before?.listed ?? (await stillFilesOf(walk))
    const plan = await planMeasuring(walk, listed)
    const stamps = listed.map(
      async ({ path }) => [path, state.get(path) ?? (await fileStamp(join(dir, path)))] as const,
    )
    return {
      walk,
      plan,
      listed,
      written: isSame ? writtenStills(textOf(bytes, join(dir, 'walk.yaml'))) : new Map(),
      assigned: new Map(plan.found.assigned.map((still) => [still.file, still])),
      unassigned: new Map(plan.found.unassigned.map((still) => [still.file, still])),
      picks: new Map([...plan.picks.byFile].map(([file, picks]) => [file.normalize('NFC'), picks])),
      named: new Map(walk.stills.map((still) => [still.file, still])),
      stamps: new Map(await Promise.all(stamps)),
      state,
    }
  }
}

async function withOwnFiles(
  dir: string,
  state: ReadonlyMap<string, string>,
): Promise<ReadonlyMap<string, string>> {
  const now = new Map(state)
  for (const file of OWN_FILES) now.set(file, await fileStamp(join(dir, file)))
  return now
}
