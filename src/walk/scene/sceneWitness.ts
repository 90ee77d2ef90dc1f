import { join } from 'node:path'
import { startThreads, ThreadEnd } from '../../files/threads.js'
import type { CameraLens } from '../../lens/cameraLens.js'
import type { Scene } from '../../scene/scene.js'
import type { SceneMatches } from '../../scene/sceneMatches.js'
import type { SceneTask } from '../../scene/sceneTask.js'
import { roundNumbers } from '../../units/roundNumbers.js'
import type { StillStore } from '../store/stillStore.js'
import { type MatchStills, sceneOfStills, type StillOfScene } from './sceneOfStills.js'

/** Tells how the stills of a walk lie against each other; null where nothing is told. Numbers are rounded as results keep them. */
export type SceneWitness = (
  stills: readonly StillOfScene[],
  lensOf: (light: string) => CameraLens | null,
) => Promise<Scene | null>

/** Nobody looks at the scene. */
export const noWitness: SceneWitness = () => Promise.resolve(null)

/** What one pair may take, some hundred times what a large one takes: this project's convention. */
const TASK_MS = 60_000
const HEAP_MB = 1000

type Registering = (task: SceneTask) => Promise<SceneMatches | null>

/**
 * Registers stills in `dir` on one thread of its own, which is started where something is not kept yet and has ended, and given back its memory, by the time the answer is there.
 * Where the sources run as they are, on this thread.
 */
export function sceneWitness(dir: string, store: StillStore | null): SceneWitness {
  return async (stills, lensOf) => {
    const pathOf = ({ file }: StillOfScene): string => join(dir, file)
    return roundNumbers(await withMatches(pathOf, store, (match) => sceneOfStills(stills, lensOf, match)))
  }
}

/** Runs `use` with what matches stills, as `sceneWitness` does. */
export async function withMatches<Value>(
  pathOf: (still: StillOfScene) => string,
  store: StillStore | null,
  use: (match: MatchStills) => Promise<Value>,
): Promise<Value> {
  let started: Promise<{ readonly run: Registering; readonly close: () => Promise<void> }> | null = null
  try {
    return await use(async (one, other, way, parts) => {
      const madeFrom = ['scene', one.sha256, other.sha256, way, parts]
      const kept = (await store?.findMade(madeFrom)) ?? null
      if (kept !== null) return kept as SceneMatches
      const fileOf = (still: StillOfScene) => ({ path: pathOf(still), sha256: still.sha256 })
      const { run } = await (started ??= registering())
      const matches = await run({ stills: [fileOf(one), fileOf(other)], way, parts })
      if (matches !== null) await store?.keepMade(madeFrom, matches)
      return matches
    })
  } finally {
    await (await (started as ReturnType<typeof registering> | null))?.close()
  }
}

async function registering(): Promise<{ readonly run: Registering; readonly close: () => Promise<void> }> {
  if (import.meta.url.endsWith('.ts')) {
    const { runSceneTask } = await import('../../scene/sceneTask.js')
    return { run: runSceneTask, close: () => Promise.resolve() }
  }
  const threads = startThreads<SceneTask, SceneMatches | null>(new URL('./sceneWorker.js', import.meta.url), {
    threads: 1,
    taskMs: TASK_MS,
    heapMb: HEAP_MB,
  })
  return {
    // A pair that costs the thread is not told.
    run: (task) =>
      threads.run(task).catch((error: unknown) => {
        if (error instanceof ThreadEnd) return null
        throw error
      }),
    close: () => threads.close(),
  }
}
