import { plainPath } from '../../../walk/schemas/fieldSchemas.js'
import { type FolderReading, readFolder } from './readFolder.js'
import { readFile } from 'node:fs/promises'
import { basename, join, resolve } from 'node:path'
import { faultLine, ProofwalkError, ProofwalkErrors } from '../../../errors.js'
import { folderState } from '../../../files/folderState.js'
import type { Outcome } from '../../../math/outcome.js'
import type { WalkResults } from '../../../walk/schemas/resultsSchema.js'
import { resultsText } from '../../../walk/schemas/resultsText.js'
import type { PageEvent, ResultsView, StillView, WalkView } from '../../api.js'
import { openStillStore, type StillStore } from '../../../walk/store/stillStore.js'
import { LiveMeasuring } from './liveMeasuring.js'
import type { QuietTime } from '../reply/quietTime.js'
import { stillHeads, type StillHeads } from '../pictures/stillHeads.js'
import { stillView, stillViews } from './stillViews.js'
import { walkView } from './walkView.js'
import { pageSays } from '../../sentences.js'

/** So often the folder is looked at for what other programs change. */
const LOOK_EVERY_MS = 700

/** What came of a change of a walk's files. */
interface WalkChange<Value> {
  readonly value: Value
  readonly by: string | null
  readonly stills: readonly string[] | null
}

/** The walk that is open on the page: what its folder holds, what was measured of it, and news of both. */
export class PageWalk {
  readonly dir: string
  readonly heads: StillHeads
  readonly measuring: LiveMeasuring
  /** SHA-256 of what was dropped into it since it was opened, by its path. */
  readonly dropped = new Map<string, string>()
  readonly #tell: (event: PageEvent) => void
  readonly #watch: NodeJS.Timeout
  #reading: FolderReading
  #faults: readonly string[] = []
  #revision = 1
  /** Identity of the results that results.json holds. */
  #writtenOf = -1
  /** What other programs' changes are told by: the folder's state as last read. */
  #seen: string
  #closed = false
  /** What came or went by the page itself, and is no news to anybody. */
  readonly #own = new Set<string>()
  #working: Promise<void> = Promise.resolve()

  private constructor(
    dir: string,
    reading: FolderReading,
    store: StillStore,
    tell: (event: PageEvent) => void,
    quiet: QuietTime,
  ) {
    this.dir = dir
    this.#reading = reading
    this.#seen = stateText(reading.state)
    this.#tell = tell
    this.heads = stillHeads(dir, (files) => this.#tellStills(files, null), quiet)
    const onMeasured = (file: string): void => {
      this.#tellStills([file], null)
      this.#tellResults()
    }
    this.measuring = new LiveMeasuring(reading, store, onMeasured, quiet)
    this.#watch = setInterval(() => void this.look(), LOOK_EVERY_MS)
    this.#readHeads()
  }

  /**
   * Opens a walk for the page and follows its folder.
   * @throws ProofwalkErrors where walk.yaml or picks.json is at fault at the start.
   */
  static async open(dir: string, tell: (event: PageEvent) => void, quiet: QuietTime): Promise<PageWalk> {
    const reading = await readFolder(dir)
    // Where nothing can be kept the page measures all the same, and has nothing to ask of who looks at it.
    const store = await openStillStore(dir, () => undefined)
    return new PageWalk(dir, reading, store, tell, quiet)
  }

  /** The folder as last soundly read. */
  reading(): FolderReading {
    return this.#reading
  }

  /** What is wrong with its files as they stand, a line each. */
  faults(): readonly string[] {
    return this.#faults
  }

  revision(): number {
    return this.#revision
  }

  view(): WalkView {
    const stills = stillViews(this.#reading, this.heads, this.measuring)
    const dropped = stills.flatMap(({ file }) => (this.dropped.has(file) ? [file] : []))
    const { walk } = this.#reading
    return walkView(basename(resolve(this.dir)), this.#revision, walk, stills, dropped, this.#faults)
  }

  /** The views of these stills, in this order; those that are not there are left out. */
  stills(files: readonly string[]): StillView[] {
    return files.flatMap((file) => stillView(file, this.#reading, this.heads, this.measuring) ?? [])
  }

  async results(): Promise<ResultsView> {
    const [progress, of] = [this.measuring.progress(), this.measuring.identity()]
    const results = progress.all === 0 ? null : await this.measuring.results()
    if (results !== null && progress.done === progress.all && (await isWritten(this.dir, results)))
      this.#writtenOf = of
    return { revision: this.#revision, ...progress, written: this.#writtenOf === of, results }
  }

  /**
   * Changes walk.yaml or picks.json by `work`, one change after the other, reads them anew and tells of it. `work` says by which page (null where it
   * changed nothing itself) and all stills that it can have changed, null where it may be more.
   */
  change<Value>(work: () => Promise<WalkChange<Value>>): Promise<Value> {
    return this.#inTurn(async () => {
      const { value, by, stills } = await work()
      const before = this.#reading
      await this.#read(before)
      this.#seen = stateText(this.#reading.state)
      const isMore = stills !== null && changedElsewhere(before, this.#reading, stills)
      if (stills !== null && !isMore) this.#tellStills(stills, by)
      else if (isMore) this.#tellWalk(null, 'walk.yaml or picks.json was changed by another hand')
      else this.#tellWalk(by, null)
      this.#tellResults()
      return value
    })
  }

  /** Says that results.json holds what is measured now. */
  resultsWritten(): void {
    this.#writtenOf = this.measuring.identity()
    this.#tellResults()
  }

  async close(): Promise<void> {
    this.#closed = true
    clearInterval(this.#watch)
    this.heads.stop()
    await this.measuring.close()
    await this.#working
  }

  #tellStills(files: readonly string[], by: string | null): void {
    this.#tell({ kind: 'stills', revision: ++this.#revision, by, stills: this.stills(files) })
  }

  #tellWalk(by: string | null, message: string | null): void {
    this.#tell({ kind: 'walk', revision: ++this.#revision, by, message })
  }

  #tellResults(): void {
    const written = this.#writtenOf === this.measuring.identity()
    this.#tell({ kind: 'results', ...this.measuring.progress(), written })
  }

  #readHeads(): void {
    void this.heads.readAll([...this.#reading.stamps].map(([file, stamp]) => ({ file, stamp })))
  }

  /** One reading after the other, so that an older one never takes the place of a newer. */
  #inTurn<Value>(work: () => Promise<Value>): Promise<Value> {
    const done = this.#working.then(work)
    this.#working = done.then(
      () => undefined,
      () => undefined,
    )
    return done
  }

  async #read(before: FolderReading | null): Promise<void> {
    try {
      this.#reading = await readFolder(this.dir, before)
      this.#faults = []
    } catch (error) {
      if (!(error instanceof ProofwalkError)) throw error
      this.#faults = (error instanceof ProofwalkErrors ? error.faults : [error]).map(faultLine)
    }
    this.measuring.follow(this.#reading)
    this.#readHeads()
  }

  /** Puts a still there or takes it away, while nobody looks: told without words once it is seen. */
  ownChange<Still extends { readonly file: string }>(
    work: () => Promise<Outcome<Still>>,
  ): Promise<Outcome<Still>> {
    return this.#inTurn(async () => {
      const done = await work()
      if (done.ok) this.#own.add(done.value.file)
      return done
    })
  }

  /** Looks for what changed in the folder, and reads it anew. */
  async look(): Promise<void> {
    try {
      await this.#inTurn(async () => {
        const now = await folderState(this.dir)
        if (this.#closed || stateText(now) === this.#seen) return
        const changed = changedFiles(this.#seen, now)
        // a folder changes with what comes into it
        const own = [...this.#own]
        const message = whatChanged(
          changed.filter((file) => !own.some((one) => one === file || one.startsWith(`${file}/`))),
        )
        this.#own.clear()
        this.#seen = stateText(now)
        await this.#read(null)
        this.#tellWalk(null, message)
        this.#tellResults()
      })
    } catch (error) {
      this.#tell({
        kind: 'fault',
        code: 'fault',
        message: error instanceof Error ? error.message : String(error),
      })
    }
  }
}

async function isWritten(dir: string, results: WalkResults): Promise<boolean> {
  const text = await readFile(join(dir, 'results.json'), 'utf8').catch(() => null)
  return text === resultsText(results)
}

function stateText(state: ReadonlyMap<string, string>): string {
  return JSON.stringify([...state])
}

/** The files, folders among them, that came, went or changed. */
function changedFiles(before: string, now: ReadonlyMap<string, string>): string[] {
  const then = new Map(JSON.parse(before) as [string, string][])
  return [...new Set([...then.keys(), ...now.keys()])].filter((file) => then.get(file) !== now.get(file))
}

/** What another hand changed, in words; null where nothing. */
function whatChanged(files: readonly string[]): string | null {
  const kept = files.filter((file) => !file.startsWith('stills/'))
  const others = files.length - kept.length
  const parts = kept.map((file) => pageSays['changed-by-another-hand'](file).message)
  if (others > 0) parts.push(pageSays['stills-changed'](others).message)
  return parts.length === 0 ? null : parts.join('; ')
}

/** Whether anything but these stills' own entries differs between two readings: somebody else changed a file in the same moment. */
function changedElsewhere(before: FolderReading, after: FolderReading, files: readonly string[]): boolean {
  if (before === after) return false
  const names = new Set(files.map((file) => plainPath(file)))
  const rest = ({ walk, written, picks }: FolderReading): string =>
    JSON.stringify([
      { ...walk, walkSha256: '', walkPlainSha256: '', stills: [] },
      [...written].filter(([file]) => !names.has(file)),
      [...picks].filter(([file]) => !names.has(plainPath(file))),
    ])
  return rest(before) !== rest(after)
}
