import { join } from 'node:path'
import { failure, type Outcome, success } from '../../../math/outcome.js'
import { openStill, type StillFile } from '../../../still/openStill.js'
import type { WholeStill } from '../../../still/wholeStill.js'
import { liesInside } from '../../../files/readInnerFile.js'
import type { StampedStill } from './stillHeads.js'
import { pageSays } from '../../sentences.js'

/** A still that is being looked at: opened, and decoded once it has to be. */
export interface HeldStill {
  readonly still: StillFile
  whole(): Promise<WholeStill>
  /** 8-bit RGB of the whole still halved so many times (1 and more), sides rounded up. */
  level(halvings: number): Promise<LevelPicture>
}

/** A reduced still. */
interface LevelPicture {
  readonly width: number
  readonly height: number
  readonly data: Buffer
}

/** The stills looked at last: few, and none for longer than memory allows. */
export interface HeldStills {
  /** Fails as `openStill` does. */
  of(still: StampedStill): Promise<Outcome<HeldStill>>
}

/** The one on the page, the ones before and after it, and one more; decoded ones only while they fit: this project's convention. */
const MOST_HELD = 4
const MOST_HELD_BYTES = 500_000_000

interface Held {
  readonly key: string
  readonly held: Promise<Outcome<HeldStill>>
  sizeBytes: number
}

/** Holds stills of a walk's folder. */
export function heldStills(dir: string): HeldStills {
  let recent: readonly Held[] = []
  const trim = (): void => {
    let sum = 0
    recent = recent.filter(({ sizeBytes }, index) => {
      sum += sizeBytes
      return index === 0 || (index < MOST_HELD && sum <= MOST_HELD_BYTES)
    })
  }
  return {
    of({ file, stamp }) {
      const key = `${stamp} ${file}`
      const before = recent.find((one) => one.key === key)
      const entry: Held = before ?? {
        key,
        sizeBytes: 0,
        held: holdStill(dir, file, (bytes) => {
          entry.sizeBytes += bytes
          trim()
        }),
      }
      recent = [entry, ...recent.filter((one) => one !== entry)]
      trim()
      return entry.held
    },
  }
}

async function holdStill(
  dir: string,
  file: string,
  onGrow: (bytes: number) => void,
): Promise<Outcome<HeldStill>> {
  const path = join(dir, file)
  // the folder may have been swapped for a link since it was listed
  const isInside = await liesInside(dir, path).catch(() => false)
  const opened = await openStill(path, { threads: 2 })
  if (!opened.ok) return opened
  if (!isInside) return failure(pageSays['path-leaves-walk']())
  const still = opened.value
  onGrow(still.sizeBytes)
  let whole: Promise<WholeStill> | null = null
  const levels = new Map<number, Promise<LevelPicture>>()
  const decode = (): Promise<WholeStill> => {
    whole ??= still.whole().then((decoded) => {
      onGrow(decoded.sizeBytes)
      return decoded
    })
    return whole
  }
  return success({
    still,
    whole: decode,
    level(halvings) {
      const before = levels.get(halvings)
      if (before !== undefined) return before
      const width = Math.ceil(still.width / 2 ** halvings)
      const height = Math.ceil(still.height / 2 ** halvings)
      const made = still.reduced(width, height).then((data) => {
        onGrow(data.length)
        return { width, height, data }
      })
      levels.set(halvings, made)
      return made
    },
  })
}
