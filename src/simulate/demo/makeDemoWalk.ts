import { mkdir } from 'node:fs/promises'
import { availableParallelism } from 'node:os'
import { join } from 'node:path'
import { startThreads } from '../../files/threads.js'
import { writeWhole } from '../../files/writeWhole.js'
import { claimDemoFolder } from './claimDemoFolder.js'
import type { DemoLightName } from '../yard/demoLight.js'
import { DEMO_STILLS, demoStillFile, type DemoRole } from './demoScenario.js'
import { DEMO_FIRST_LINE, DEMO_WALK_TEXT } from './demoWalkText.js'
import { type DemoLightTask, writeDemoLight, type WrittenDemoStill } from './writeDemoLight.js'

/** The demonstration as written: where, which file plays which part, and what is true of every still. */
export interface DemoWalk {
  readonly dir: string
  readonly walkFile: string
  readonly stillCount: number
  readonly roles: Readonly<Record<DemoRole, string>>
  /** In the order of the story. */
  readonly truth: readonly WrittenDemoStill[]
}

export interface DemoOptions {
  /** Threads; one a core when left out, never more than there are lights. */
  readonly workers?: number
  readonly onProgress?: (done: number, all: number) => void
}

/** How an earlier demonstration is known. */
export const DEMO_KIND = { firstLine: DEMO_FIRST_LINE, stills: DEMO_STILLS.map(demoStillFile) }

/** The lights, the one with most work first, so that two threads end together. */
const LIGHTS: readonly DemoLightName[] = ['day', 'infrared', 'lamp']

/**
 * Makes the demonstration walk in `dir`: walk.yaml, picks.json and the stills, all or nothing, the same bytes every time on
 * one machine. An earlier demonstration there is replaced; anything else is refused (`ProofwalkError` `folder-in-use`).
 * @throws `ProofwalkError` `folder-in-use`, or `cannot-write` where nothing can be made there
 */
export async function makeDemoWalk(dir: string, options: DemoOptions = {}): Promise<DemoWalk> {
  const folder = await claimDemoFolder(dir, DEMO_KIND)
  try {
    for (const light of LIGHTS) await mkdir(join(folder.making, 'stills', light), { recursive: true })
    const truth = await writeLights(folder.making, options)
    await writeWhole(join(folder.making, 'picks.json'), picksText(truth))
    await writeWhole(join(folder.making, 'walk.yaml'), DEMO_WALK_TEXT)
    await folder.finish()
    const walkFile = join(dir, 'walk.yaml')
    return { dir, walkFile, stillCount: truth.length, roles: rolesOf(truth), truth }
  } catch (error) {
    await folder.abandon()
    throw error
  }
}

/** Nothing of what is simulated comes from outside. */
const NO_LIMITS = { taskMs: 2 ** 31 - 1, heapMb: 4000 }

async function writeLights(dir: string, options: DemoOptions): Promise<WrittenDemoStill[]> {
  let done = 0
  const count = (): void => options.onProgress?.(++done, DEMO_STILLS.length)
  const workers = Math.min(LIGHTS.length, options.workers ?? availableParallelism())
  // The sources run as they are have no script for a thread.
  if (workers <= 1 || import.meta.url.endsWith('.ts')) {
    const lights: WrittenDemoStill[] = []
    for (const light of LIGHTS) lights.push(...(await writeDemoLight({ dir, light }, count)))
    return lights
  }
  const script = new URL('./demoLightWorker.js', import.meta.url)
  const threads = startThreads<DemoLightTask, WrittenDemoStill[]>(script, { threads: workers, ...NO_LIMITS })
  try {
    return (await Promise.all(LIGHTS.map((light) => threads.run({ dir, light }, count)))).flat()
  } finally {
    await threads.close()
  }
}

function picksText(truth: readonly WrittenDemoStill[]): string {
  const stills = Object.fromEntries(
    truth
      .filter(({ still }) => still.reference !== 'chart')
      .map(({ file, sha256, still, clicks }) => [
        file,
        { sha256, reference: still.reference, corners: clicks, sigma: 0.5, method: 'hand' },
      ]),
  )
  return `${JSON.stringify({ format: 'proofwalk-picks/1', stills }, null, 2)}\n`
}

function rolesOf(truth: readonly WrittenDemoStill[]): Readonly<Record<DemoRole, string>> {
  const fileOf = (role: DemoRole): string => truth.find(({ still }) => still.role === role)!.file
  return {
    'promise-kept': fileOf('promise-kept'),
    'at-the-limit': fileOf('at-the-limit'),
    'plate-at-white': fileOf('plate-at-white'),
    'board-beside-it': fileOf('board-beside-it'),
    'blown-up': fileOf('blown-up'),
    'wrong-tape': fileOf('wrong-tape'),
    'sharp-by-day': fileOf('sharp-by-day'),
    'soft-under-infrared': fileOf('soft-under-infrared'),
    knocked: fileOf('knocked'),
  }
}
