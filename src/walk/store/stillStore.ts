import { join } from 'node:path'
import { type EntryStore, openEntryStore } from '../../files/entryStore.js'
import { fileSha256, sha256Of } from '../../files/fileSha256.js'
import { METHOD_VERSION } from '../../measure/stillMeasurement.js'
import type { Said } from '../../sentences.js'
import { decoderVersions } from '../../still/loadSharp.js'
import { buildIdentity } from '../../version.js'
import type { WalkResults } from '../schemas/resultsSchema.js'
import type { StillTask, StillTaskResult } from '../stills/stillTask.js'

/** Where a walk keeps what was measured of it: a cache that may be deleted, never more than `MOST_BYTES`. */
export const STORE_FOLDER = '.proofwalk/store'
const MOST_BYTES = 200_000_000
const RESULTS = 'results'

/**
 * What was measured of a walk's stills, by their bytes: a still is had again only by its own hash, the whole task but where it lies, and the method, the build and the decoder
 * that measured it. No time of a file is looked at.
 */
export interface StillStore {
  /** What came of the task when it was last measured; null where that is not kept. Reads the still to hash it. */
  find(task: StillTask): Promise<StillTaskResult | null>
  /** Keeps what came of a task, where its still could be opened and decoded: what was in the way may be gone the next time. */
  keep(task: StillTask, result: StillTaskResult): Promise<void>
  /** The walk's results that were last kept, where they were made from the same; null else. */
  findResults(madeFrom: unknown): Promise<WalkResults | null>
  keepResults(madeFrom: unknown, results: WalkResults): Promise<void>
  /** Holds it to its size. */
  sweep(): Promise<void>
}

/** Opens the store of a walk's folder. `onFault` is told once why nothing can be kept. */
export async function openStillStore(dir: string, onFault: (said: Said) => void): Promise<StillStore> {
  const store: EntryStore = await openEntryStore(join(dir, STORE_FOLDER), onFault)
  const measuredBy = [METHOD_VERSION, buildIdentity, process.version, process.arch, await decoderVersions()]
  const keyOf = (madeFrom: unknown): string => sha256Of(JSON.stringify([measuredBy, madeFrom]))
  const nameOf = ({ path: _path, file: _file, ...task }: StillTask, sha256: string): string =>
    keyOf([sha256, task])
  const kept = new Set<string>()
  return {
    async find(task) {
      // Where there is nothing to be found, nothing is hashed.
      const sha256 = store.isEmpty && !kept.has(task.path) ? null : await fileSha256(task.path)
      if (sha256 === null) return null
      return ((await store.get(nameOf(task, sha256))) as StillTaskResult | undefined) ?? null
    },
    async keep(task, result) {
      const isDecoded = result.ok || !result.code.startsWith('still-')
      if (result.sha256 === null || !isDecoded) return
      kept.add(task.path)
      await store.put(nameOf(task, result.sha256), result)
    },
    async findResults(madeFrom) {
      const last = (await store.get(RESULTS)) as KeptResults | undefined
      return last?.key === keyOf(madeFrom) ? last.results : null
    },
    keepResults: (madeFrom, results) =>
      store.put(RESULTS, { key: keyOf(madeFrom), results } satisfies KeptResults),
    sweep: () => store.sweep(MOST_BYTES),
  }
}

interface KeptResults {
  readonly key: string
  readonly results: WalkResults
}
