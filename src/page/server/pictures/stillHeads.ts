import { join } from 'node:path'
import type { Problem } from '../../../measure/stillMeasurement.js'
import { openStill } from '../../../still/openStill.js'
import type { StillHead } from '../../api.js'
import type { QuietTime } from '../reply/quietTime.js'

/** What opening a still told: its head and remarks, or why it cannot be opened. */
export type ReadHead =
  | { readonly ok: true; readonly head: StillHead; readonly remarks: readonly Problem[] }
  | { readonly ok: false; readonly code: string; readonly message: string }

/** A still as it was at one time. */
export interface StampedStill {
  readonly file: string
  readonly stamp: string
}

/** The heads of a walk's stills, read one at a time in the background, each once. */
export interface StillHeads {
  /** Null while it was not read. */
  of(still: StampedStill): ReadHead | null
  /** Reads it now, if it was not read, and tells of it. */
  read(still: StampedStill): Promise<ReadHead>
  /** Reads all of these one after the other, in quiet times, and tells of them a few at a time; a later call takes the place of an earlier one. */
  readAll(stills: readonly StampedStill[]): Promise<void>
  stop(): void
}

/** So often the page is told of heads that were read meanwhile. */
const TELL_EVERY_MS = 150
/** A head takes little; it is put off for no longer than this. */
const MOST_PUT_OFF_MS = 150

/** Heads of the stills below `dir`; `onRead` is told the paths of what was read. */
export function stillHeads(
  dir: string,
  onRead: (files: readonly string[]) => void,
  quiet: QuietTime,
): StillHeads {
  const heads = new Map<string, Promise<ReadHead>>()
  const known = new Map<string, ReadHead>()
  let round = 0
  const key = ({ file, stamp }: StampedStill): string => `${stamp} ${file}`
  const read = (still: StampedStill): Promise<ReadHead> => {
    const before = heads.get(key(still))
    if (before !== undefined) return before
    const reading = readHead(join(dir, still.file)).then((head) => {
      known.set(key(still), head)
      return head
    })
    heads.set(key(still), reading)
    return reading
  }
  return {
    of: (still) => known.get(key(still)) ?? null,
    async read(still) {
      const isNews = !known.has(key(still))
      const head = await read(still)
      if (isNews) onRead([still.file])
      return head
    },
    async readAll(stills) {
      const mine = ++round
      let told = Date.now()
      let news: string[] = []
      for (const still of stills) {
        if (mine !== round) break
        if (known.has(key(still))) continue
        await quiet.come(MOST_PUT_OFF_MS)
        if (mine !== round) break
        await read(still)
        news.push(still.file)
        if (Date.now() - told < TELL_EVERY_MS) continue
        onRead(news)
        news = []
        told = Date.now()
      }
      if (news.length > 0) onRead(news)
    },
    stop: () => void ++round,
  }
}

async function readHead(path: string): Promise<ReadHead> {
  const still = await openStill(path)
  if (!still.ok) return { ok: false, code: still.code, message: still.message }
  const { sha256, width, height, takenAt, remarks } = still.value
  return { ok: true, head: { sha256, width, height, takenAt }, remarks }
}
