import { plainPath } from '../../../walk/change/writtenStills.js'
import { type FolderReading, readFolder } from './readFolder.js'
import { readFile } from 'node:fs/promises'
import { basename, join, resolve } from 'node:path'
import { faultLine, ProofwalkError, ProofwalkErrors } from '../../../errors.js'
import { folderState } from '../../../files/folderState.js'
import type { WalkResults } from '../../../walk/schemas/resultsSchema.js'
import { resultsText } from '../../../walk/schemas/resultsText.js'
import type { PageEvent, ResultsView, StillView, WalkView } from '../../api.js'
import { liveMeasuring, type LiveMeasuring } from './liveMeasuring.js'
import type { QuietTime } from '../reply/quietTime.js'
import { stillHeads, type StillHeads } from '../pictures/stillHeads.js'
import { stillView, stillViews } from './stillViews.js'
import { walkView } from './walkView.js'

/** So often the folder is looked at for what other programs change. */
const LOOK_EVERY_MS = 700

/** The walk that is open on the page: what its folder holds, what was measured of it, and news of both. */
export interface PageWalk {
  readonly dir: string
  readonly heads: StillHeads
  readonly measuring: LiveMeasuring
  /** The folder as last soundly read. */
  reading(): FolderReading
  /** What is wrong with its files as they stand, a line each. */
  faults(): readonly string[]
  revision(): number
  view(): WalkView
  /** The views of these stills, in this order; those that are not there are left out. */
  stills(files: readonly string[]): StillView[]
  results(): Promise<ResultsView>
  /**
   * Changes walk.yaml or picks.json by `work`, one change after the other, reads them anew and tells of it. `work` says by which page (null where it
   * changed nothing itself) and all stills that it can have changed, null where it may be more.
   */
  change<Value>(work: () => Promise<WalkChange<Value>>): Promise<Value>
  /** Says that results.json holds what is measured now. */
  resultsWritten(): void
  close(): Promise<void>
}

/** What came of a change of a walk's files. */
interface WalkChange<Value> {
  readonly value: Value
  readonly by: string | null
  readonly stills: readonly string[] | null
}

/** Opens a walk for the page and follows its folder. Throws `ProofwalkErrors` where walk.yaml or picks.json is at fault at the start. */
export async function openPageWalk(
  dir: string,
  tell: (event: PageEvent) => void,
  quiet: QuietTime,
): Promise<PageWalk> {
  let reading = await readFolder(dir)
  let faults: readonly string[] = []
  let revision = 1
  let writtenOf = -1
  let closed = false

  const tellStills = (files: readonly string[], by: string | null): void =>
    tell({ kind: 'stills', revision: ++revision, by, stills: viewsOf(files) })
  const heads = stillHeads(dir, (files) => tellStills(files, null), quiet)
  const onMeasured = (file: string): void => {
    tellStills([file], null)
    tellResults()
  }
  const measuring = liveMeasuring(reading, onMeasured, quiet)
  const viewsOf = (files: readonly string[]): StillView[] =>
    files.flatMap((file) => stillView(file, reading, heads, measuring) ?? [])
  const tellResults = (): void =>
    tell({ kind: 'results', ...measuring.progress(), written: writtenOf === measuring.identity() })
  const readHeads = (): void =>
    void heads.readAll([...reading.stamps].map(([file, stamp]) => ({ file, stamp })))

  let working: Promise<void> = Promise.resolve()
  /** One reading after the other, so that an older one never takes the place of a newer. */
  const inTurn = <Value>(work: () => Promise<Value>): Promise<Value> => {
    const done = working.then(work)
    working = done.then(
      () => undefined,
      () => undefined,
    )
    return done
  }
  const read = async (before: FolderReading | null): Promise<void> => {
    try {
      reading = await readFolder(dir, before)
      faults = []
    } catch (error) {
      if (!(error instanceof ProofwalkError)) throw error
      faults = (error instanceof ProofwalkErrors ? error.faults : [error]).map(faultLine)
    }
    measuring.follow(reading)
    readHeads()
  }

  let seen = stateText(reading.state)
  const look = (): Promise<void> =>
    inTurn(async () => {
      const now = await folderState(dir)
      if (closed || stateText(now) === seen) return
      const message = whatChanged(seen, now)
      seen = stateText(now)
      await read(null)
      tell({ kind: 'walk', revision: ++revision, by: null, message })
      tellResults()
    }).catch((error: unknown) => {
      tell({
        kind: 'fault',
        code: 'fault',
        message: error instanceof Error ? error.message : String(error),
      })
    })
  const watch = setInterval(() => void look(), LOOK_EVERY_MS)
  readHeads()

  return {
    dir,
    heads,
    measuring,
    reading: () => reading,
    faults: () => faults,
    revision: () => revision,
    view: () =>
      walkView(basename(resolve(dir)), revision, reading.walk, stillViews(reading, heads, measuring), faults),
    stills: viewsOf,
    results: async () => {
      const [progress, of] = [measuring.progress(), measuring.identity()]
      const results = progress.all === 0 ? null : await measuring.results()
      if (results !== null && progress.done === progress.all && (await isWritten(dir, results)))
        writtenOf = of
      return { revision, ...progress, written: writtenOf === of, results }
    },
    change: (work) =>
      inTurn(async () => {
        const { value, by, stills } = await work()
        const before = reading
        await read(before)
        seen = stateText(reading.state)
        const isMore = stills !== null && changedElsewhere(before, reading, stills)
        if (stills !== null && !isMore) tellStills(stills, by)
        else
          tell({
            kind: 'walk',
            revision: ++revision,
            by: isMore ? null : by,
            message: isMore ? 'walk.yaml or picks.json was changed by another hand' : null,
          })
        tellResults()
        return value
      }),
    resultsWritten() {
      writtenOf = measuring.identity()
      tellResults()
    },
    async close() {
      closed = true
      clearInterval(watch)
      heads.stop()
      await measuring.close()
      await working
    },
  }
}

async function isWritten(dir: string, results: WalkResults): Promise<boolean> {
  const text = await readFile(join(dir, 'results.json'), 'utf8').catch(() => null)
  return text === resultsText(results)
}

function stateText(state: ReadonlyMap<string, string>): string {
  return JSON.stringify([...state])
}

/** What came, went or changed by another hand, in words. */
function whatChanged(before: string, now: ReadonlyMap<string, string>): string {
  const then = new Map(JSON.parse(before) as [string, string][])
  const files = [...new Set([...then.keys(), ...now.keys()])].filter(
    (file) => then.get(file) !== now.get(file),
  )
  const own = files.filter((file) => !file.startsWith('stills/'))
  const others = files.length - own.length
  const parts = own.map((file) => `${file} was changed by another hand`)
  if (others > 0) parts.push(others === 1 ? 'a still came, went or changed' : 'stills came, went or changed')
  return parts.join('; ')
}

/** Whether anything but these stills' own entries differs between two readings: somebody else changed a file in the same moment. */
function changedElsewhere(before: FolderReading, after: FolderReading, files: readonly string[]): boolean {
  if (before === after) return false
  const names = new Set(files.map((file) => plainPath(file)))
  const rest = ({ walk, written, picks }: FolderReading): string =>
    JSON.stringify([
      { ...walk, walkSha256: '', stills: [] },
      [...written].filter(([file]) => !names.has(file)),
      [...picks].filter(([file]) => !names.has(plainPath(file))),
    ])
  return rest(before) !== rest(after)
}
