import { seededRandom } from '../math/random.js'

/** One showing of a crop to a reader; `again`: of one that was shown before, to see how steady the reader is. */
export interface Showing {
  readonly crop: string
  readonly again: boolean
}

/** Of so many crops one is shown again, in the last part of the trial: this project's convention. */
const AGAIN_OF = 8
const LAST_PART = 0.6

/** The order in which a reader sees crops: by chance from the trial's seed and the reader's name, so that it is the same when the trial is taken up again. */
export function trialOrder(crops: readonly string[], seed: number, reader: string): Showing[] {
  const random = seededRandom(nameSeed(`${seed} ${reader}`))
  const order: Showing[] = shuffled([...crops].sort(), random.uniform).map((crop) => ({ crop, again: false }))
  const from = Math.floor(LAST_PART * order.length)
  const again = shuffled(
    order.slice(0, from).map(({ crop }) => crop),
    random.uniform,
  ).slice(0, Math.floor(crops.length / AGAIN_OF))
  for (const crop of again) {
    const at = from + Math.floor(random.uniform() * (order.length + 1 - from))
    order.splice(at, 0, { crop, again: true })
  }
  return order
}

function shuffled<Item>(items: Item[], uniform: () => number): Item[] {
  for (let last = items.length - 1; last > 0; last -= 1) {
    const other = Math.floor(uniform() * (last + 1))
    ;[items[last], items[other]] = [items[other]!, items[last]!]
  }
  return items
}

/** A number of 32 bits for a name: FNV-1a (G. Fowler, L. C. Noll and K.-P. Vo). */
function nameSeed(name: string): number {
  let hash = 0x811c9dc5
  for (const byte of new TextEncoder().encode(name)) hash = Math.imul(hash ^ byte, 0x01000193)
  return hash >>> 0
}
