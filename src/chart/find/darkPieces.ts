import type { DarkRuns } from './darkRuns.js'

/** Which pieces may be a chart's frame, px of the picture they were found in. */
export interface PieceLimits {
  readonly leastSide: number
  readonly mostSide: number
}

/** Pieces that may be a chart's frame: piece k has `rows[k]` rows from `top[k]` downwards, which are at `first[k]` of `left` and `right`. */
export interface DarkPieces {
  readonly count: number
  readonly top: Int32Array
  readonly rows: Int32Array
  readonly first: Int32Array
  /** First dark column of a row, and one past the last. */
  readonly left: Int32Array
  readonly right: Int32Array
}

// Shares of the bounding box the frame with its dark half fills: 0.67 to 0.75 of the upright outline, less where it is rolled or turned, with
// room for noise. Sides of the bounding box from a chart turned 60 degrees to one lying on its side. This project's convention.
const LEAST_FILL = 0.3
const MOST_FILL = 0.88
const MOST_ASPECT = 2.8
/**
 * Spread of a piece against that of an even rectangle of its area, whatever the affine view: 12 times the root of J. Flusser and T. Suk's first
 * invariant (Pattern Recognition 26 (1993) 167), 1 for a rectangle,
 * 3.4 for the bare frame. Limits set on simulated charts.
 */
const LEAST_SPREAD = 1.05
const MOST_SPREAD = 3.6

/** The pieces among the runs whose size, fill and spread can be those of a chart's frame with its dark half. */
export function darkPieces(runs: DarkRuns, limits: PieceLimits): DarkPieces {
  const boxed = boxedPieces(runs)
  const pieces = likelyPieces(boxed, limits)
  const spreads = writeOutlines(runs, boxed.pieceOf, pieces)
  const { top, rows, first } = pieces
  let kept = 0
  for (let index = 0; index < pieces.count; index += 1) {
    if (spreads[index]! < LEAST_SPREAD || spreads[index]! > MOST_SPREAD) continue
    top[kept] = top[index]!
    rows[kept] = rows[index]!
    first[kept] = first[index]!
    kept += 1
  }
  return { count: kept, top, rows, first, left: pieces.left, right: pieces.right }
}

/** Every piece's bounding box and area, and which piece each run is of. */
interface BoxedPieces {
  readonly count: number
  /** Left, right, top, bottom, area of one after the other. */
  readonly box: Int32Array
  readonly pieceOf: Int32Array
}

function boxedPieces({ count, firstOfRow, start, end, earlier }: DarkRuns): BoxedPieces {
  const pieceOf = new Int32Array(count)
  let box = new Int32Array(5 * 4096)
  let pieces = 0
  for (let y = 0; y < firstOfRow.length - 1; y += 1) {
    const last = firstOfRow[y + 1]!
    for (let run = firstOfRow[y]!; run < last; run += 1) {
      const before = earlier[run]!
      const from = start[run]!
      const to = end[run]!
      // A piece's first run has the least index, so its number is known before it is asked for.
      if (before === run) {
        const at = 5 * pieces
        if (at === box.length) {
          const larger = new Int32Array(2 * at)
          larger.set(box)
          box = larger
        }
        box[at] = from
        box[at + 1] = to
        box[at + 2] = y
        box[at + 3] = y + 1
        box[at + 4] = to - from
        pieceOf[run] = pieces++
      } else {
        const own = pieceOf[before]!
        const at = 5 * own
        pieceOf[run] = own
        if (from < box[at]!) box[at] = from
        if (to > box[at + 1]!) box[at + 1] = to
        box[at + 3] = y + 1
        box[at + 4]! += to - from
      }
    }
  }
  return { count: pieces, box, pieceOf }
}

/** The pieces that their boxes do not rule out, their rows' ends not yet written. */
interface LikelyPieces extends DarkPieces {
  /** One more than the place among these pieces of each of all, 0 for none. */
  readonly chosen: Int32Array
  /** Left side of each one's box. */
  readonly origin: Int32Array
}

function likelyPieces({ count, box }: BoxedPieces, limits: PieceLimits): LikelyPieces {
  const chosen = new Int32Array(count)
  let many = 0
  let lines = 0
  for (let at = 0; at < count; at += 1) {
    if (!mayBeFrame(box, 5 * at, limits)) continue
    many += 1
    chosen[at] = many
    lines += box[5 * at + 3]! - box[5 * at + 2]!
  }
  const [top, rows, first, origin] = [0, 1, 2, 3].map(() => new Int32Array(many)) as FourLists
  let line = 0
  for (let at = 0; at < count; at += 1) {
    const index = chosen[at]! - 1
    if (index < 0) continue
    top[index] = box[5 * at + 2]!
    first[index] = line
    origin[index] = box[5 * at]!
    rows[index] = box[5 * at + 3]! - box[5 * at + 2]!
    line += rows[index]!
  }
  const left = new Int32Array(lines).fill(0x7fffffff)
  return { count: many, chosen, origin, top, rows, first, left, right: new Int32Array(lines) }
}

type FourLists = [Int32Array, Int32Array, Int32Array, Int32Array]

/** Writes the first and last dark column of every row of the pieces; returns each one's spread. */
function writeOutlines(
  { firstOfRow, start, end }: DarkRuns,
  pieceOf: Int32Array,
  { count, chosen, origin, top, first, left, right }: LikelyPieces,
): Float64Array {
  const moments = new Float64Array(6 * count)
  for (let y = 0; y < firstOfRow.length - 1; y += 1)
    for (let run = firstOfRow[y]!; run < firstOfRow[y + 1]!; run += 1) {
      const index = chosen[pieceOf[run]!]! - 1
      if (index < 0) continue
      const line = y - top[index]!
      const at = first[index]! + line
      const from = start[run]!
      const to = end[run]!
      if (from < left[at]!) left[at] = from
      if (to > right[at]!) right[at] = to
      const n = to - from
      const x = (from + to - 1) / 2 - origin[index]!
      const m = 6 * index
      moments[m]! += n
      moments[m + 1]! += n * x
      moments[m + 2]! += n * line
      moments[m + 3]! += n * (x * x + (n * n - 1) / 12)
      moments[m + 4]! += n * x * line
      moments[m + 5]! += n * line * line
    }
  return Float64Array.from({ length: count }, (_, index) => spreadOf(moments, 6 * index))
}

/** `box`: left, right, top, bottom, area. */
function mayBeFrame(box: Int32Array, at: number, limits: PieceLimits): boolean {
  const width = box[at + 1]! - box[at]!
  const height = box[at + 3]! - box[at + 2]!
  if (width < limits.leastSide || height < limits.leastSide) return false
  if (width > limits.mostSide || height > limits.mostSide) return false
  if (width > MOST_ASPECT * height || height > MOST_ASPECT * width) return false
  const fill = box[at + 4]! / (width * height)
  return fill >= LEAST_FILL && fill <= MOST_FILL
}

function spreadOf(moments: Float64Array, at: number): number {
  const area = moments[at]!
  const x = moments[at + 1]! / area
  const y = moments[at + 2]! / area
  // Each pixel is a square: its own twelfth is added.
  const xx = moments[at + 3]! / area - x * x + 1 / 12
  const xy = moments[at + 4]! / area - x * y
  const yy = moments[at + 5]! / area - y * y + 1 / 12
  return (12 * Math.sqrt(Math.max(0, xx * yy - xy * xy))) / area
}
