import { readWalk } from '../../walk/read/readWalk.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { eachFolder } from '../terminal/eachFolder.js'
import { measureTable } from './measureTable.js'
import { shellWord } from '../terminal/shellWord.js'
import type { Terminal } from '../terminal/terminal.js'
import { lstat } from 'node:fs/promises'
import { join } from 'node:path'
import { resultsText } from '../../walk/schemas/resultsText.js'
import { SAME_PICTURE } from '../../walk/measure/samePictures.js'
import { measureWalk, type MeasureWalkOptions } from '../../walk/measure/measureWalk.js'
import { workerCount } from '../../walk/measure/stillPool.js'
import { stillRunner } from '../../walk/measure/stillRunner.js'
import type { Walk } from '../../walk/read/walk.js'
import { openStillStore, STORE_FOLDER, type StillStore } from '../../walk/store/stillStore.js'
import { fault } from '../../sentences.js'
import { cliSays } from '../sentences.js'
import { printFault } from '../terminal/printFault.js'
import { writeWhole } from '../../files/writeWhole.js'
import { progressLine } from '../terminal/progressLine.js'

interface FolderOptions {
  readonly workers?: number
  readonly json?: true
  readonly watch?: true
  readonly scene?: boolean
}

/** What goes on from one measuring to the next, where a folder is watched. */
type MeasuredBy = Required<Pick<MeasureWalkOptions, 'store' | 'runner'>>

/** Measures a walk's folder, writes its results.json whole, prints the table or the JSON, and sets the exit status. */
export async function measureFolder(dir: string, options: FolderOptions, terminal: Terminal): Promise<void> {
  const measure = (by?: MeasuredBy): Promise<void> => measureOnce(dir, options, terminal, by)
  if (options.watch !== true) return measure()
  const [{ watchFolder }, { showStills }] = await Promise.all([
    import('./watchFolder.js'),
    import('./showStills.js'),
  ])
  const store = await storeOf(dir, terminal)
  const by = { store, runner: stillRunner(workerCount(options.workers ?? null, Infinity), store) }
  try {
    const show = (files: ReadonlySet<string>): Promise<void> => showStills(dir, files, by.runner, terminal)
    await watchFolder(dir, { measure: () => measure(by), show }, terminal)
  } finally {
    await by.runner.close()
  }
}

async function measureOnce(
  dir: string,
  options: FolderOptions,
  terminal: Terminal,
  by?: MeasuredBy,
): Promise<void> {
  const results = await measureAndWrite(await readWalk(dir), options, terminal, by)
  if (options.json === true) terminal.out(resultsText(results))
  else terminal.out(`${measureTable(results)}\n${nextLine(dir, results)}\n`)
  terminal.setStatus(exitStatus(results))
}

/** The store of a walk; why it can keep nothing is said once. */
function storeOf(dir: string, terminal: Terminal): Promise<StillStore> {
  const place = { file: join(dir, STORE_FOLDER) }
  return openStillStore(dir, (said) => void printFault(fault(said, place), terminal))
}

/**
 * Measures a walk with progress on a terminal, and writes its results.json whole.
 * @throws `ProofwalkError` `walk-gone` where the folder is no longer there by then
 */
export async function measureAndWrite(
  walk: Walk,
  { workers = null, scene = true }: { readonly workers?: number | null; readonly scene?: boolean },
  terminal: Terminal,
  by?: MeasuredBy,
): Promise<WalkResults> {
  const progress = progressLine(terminal, 'measuring')
  const measuredBy = by ?? { store: await storeOf(walk.dir, terminal) }
  const results = await measureWalk(walk, { workers, scene, ...measuredBy, onProgress: progress.show })
  progress.clear()
  // A stick that was pulled out in the middle: what was read of it until then is no measuring of the walk.
  if (!(await lstat(join(walk.dir, 'walk.yaml')).catch(() => null)))
    throw fault(cliSays['walk-gone'](), { file: walk.dir })
  await writeWhole(join(walk.dir, 'results.json'), resultsText(results))
  return results
}

/** 1 where a promise is not met or not shown, one picture stands under several marks or lights, or no still at all could be measured; else 0. */
function exitStatus(results: WalkResults): 0 | 1 {
  if (results.stills.length === 0 || results.findings.some(({ code }) => code === SAME_PICTURE)) return 1
  return results.promises.every((promise) => promise.verdict === 'met') ? 0 : 1
}

/** What follows measuring a walk: its sheet, or what its stills lack. */
export function nextLine(dir: string, results: WalkResults): string {
  if (results.stills.length > 0) return `Next: proofwalk sheet ${shellWord(dir)}`
  if (results.failed.some(({ code }) => code === 'no-pick')) return `Next: proofwalk pick ${shellWord(dir)}`
  return `Next: put stills into ${join(dir, 'stills')}, then proofwalk pick ${shellWord(dir)}`
}

/** Measures several walks, each into its own results.json, and prints their tables or one JSON document of all. */
export async function measureFolders(
  dirs: readonly string[],
  options: { readonly workers?: number; readonly json?: true; readonly scene?: boolean },
  terminal: Terminal,
): Promise<void> {
  const walks: { dir: string; results: WalkResults }[] = []
  const print = (): void => {
    if (options.json === true) terminal.out(`${JSON.stringify({ walks }, null, 2)}\n`)
    else if (walks.length > 0)
      terminal.out(`Next: proofwalk summary ${walks.map(({ dir }) => shellWord(dir)).join(' ')}\n`)
    terminal.setStatus(walks.some(({ results }) => exitStatus(results) === 1) ? 1 : 0)
  }
  try {
    await eachFolder(dirs, async (dir) => {
      const results = await measureAndWrite(await readWalk(dir), options, terminal)
      walks.push({ dir, results })
      if (options.json !== true) terminal.out(`${dir}\n\n${measureTable(results)}\n`)
    })
  } finally {
    print()
  }
}
