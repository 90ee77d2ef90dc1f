import { join } from 'node:path'
import { loadSharp } from '../../../still/loadSharp.js'
import { openStill } from '../../../still/openStill.js'
import { liesInside } from '../../../files/readInnerFile.js'
import type { StampedStill } from './stillHeads.js'

/** Small pictures of stills, made as they are asked for and kept in memory: nothing of a walk is left on the disk. */
export interface StillThumbs {
  /** A JPEG no larger than `sidePx` a side; null where the still cannot be opened. */
  of(still: StampedStill, sidePx: number): Promise<Buffer | null>
}

/** Thumbs of about 10 kB: a walk of some thousand stills fits. */
const MOST_THUMBS = 2000
/** So many are made at once, so that the still itself is not kept waiting. */
const AT_ONCE = 2

/** Thumbs of the stills below `dir`. */
export function stillThumbs(dir: string): StillThumbs {
  const made = new Map<string, Promise<Buffer | null>>()
  const queue: (() => void)[] = []
  let running = 0
  const inTurn = async <Value>(work: () => Promise<Value>): Promise<Value> => {
    // the last asked is the one that is looked at now
    if (running >= AT_ONCE) await new Promise<void>((resolve) => queue.push(resolve))
    running++
    try {
      return await work()
    } finally {
      running--
      queue.pop()?.()
    }
  }
  return {
    of({ file, stamp }, sidePx) {
      const key = `${sidePx} ${stamp} ${file}`
      const before = made.get(key)
      if (before !== undefined) return before
      const thumb = inTurn(() => makeThumb(dir, file, sidePx))
      made.set(key, thumb)
      if (made.size > MOST_THUMBS) made.delete(made.keys().next().value!)
      return thumb
    },
  }
}

async function makeThumb(dir: string, file: string, sidePx: number): Promise<Buffer | null> {
  const path = join(dir, file)
  if (!(await liesInside(dir, path).catch(() => false))) return null
  const still = await openStill(path)
  if (!still.ok) return null
  const scale = Math.min(1, sidePx / Math.max(still.value.width, still.value.height))
  const width = Math.max(1, Math.round(still.value.width * scale))
  const height = Math.max(1, Math.round(still.value.height * scale))
  const data = await still.value.reduced(width, height).catch(() => null)
  if (data === null) return null
  const sharp = await loadSharp({ threads: 1 })
  return sharp(data, { raw: { width, height, channels: 3 } })
    .jpeg({ quality: 78 })
    .toBuffer()
}
