import type { ByteImage } from '../../still/searchBytes.js'
import { BLOCK_COLUMNS, BLOCK_ROWS, type LivelyBlocks } from './livelyBlocks.js'

/** Runs of dark pixels, row by row, and the connected piece (4 neighbours) each belongs to. */
export interface DarkRuns {
  readonly count: number
  /** Row y has the runs `firstOfRow[y]` to `firstOfRow[y + 1]`. */
  readonly firstOfRow: Int32Array
  /** First column, and one past the last. */
  readonly start: Uint16Array
  readonly end: Uint16Array
  /** An earlier run of the same piece, which leads to the piece's first; the first leads to itself. */
  readonly earlier: Int32Array
}

/** Pixels compared at a time. */
const WORD = 32

/**
 * Pixels darker by more than `offset` than the mean of the square window around them (`radius` pixels of the picture at half size to each
 * side), gathered into runs and connected pieces in one pass over the rows (union-find with path halving; R. Tarjan and J. van Leeuwen, J. ACM 31 (1984) 245). The window's mean is taken from the
 * picture at half size, `half`, which spares three quarters of that work. With `smooth`, the pixels compared are smoothed by the binomial
 * weights 1, 2, 1 along rows and columns. Nothing is dark outside of `lively`.
 */
export function darkRuns(
  image: ByteImage,
  half: ByteImage,
  radius: number,
  offset: number,
  smooth: boolean,
  lively: LivelyBlocks,
): DarkRuns {
  const { width, height, data } = image
  const columnSums = new Int32Array(half.width)
  const words = Math.ceil(width / WORD)
  const row = new Uint8Array(words * WORD)
  const limits = new Uint8Array(words * WORD)
  const rowWords = new Uint32Array(row.buffer)
  const limitWords = new Uint32Array(limits.buffer)
  const smoothSums = new Uint16Array(width)
  const firstOfRow = new Int32Array(height + 1)
  let earlier = new Int32Array(Math.max(1024, (width * height) >> 4))
  let start = new Uint16Array(earlier.length)
  let end = new Uint16Array(earlier.length)
  let count = 0
  let aboveFirst = 0
  let aboveLast = 0
  for (let y = 0; y < Math.min(radius, half.height); y += 1) moveWindow(columnSums, half, y, -1)
  for (let y = 0; y < height; y += 1) {
    const line = y >> 1
    const inside = (y & 1) === 0 && line < half.height
    if (inside) moveWindow(columnSums, half, line + radius, line - radius - 1)
    const rows = Math.min(half.height - 1, line + radius) - Math.max(0, line - radius) + 1
    if (count + (width >> 1) + 2 > earlier.length) {
      const size = 2 * earlier.length
      start = wider(start, new Uint16Array(size))
      end = wider(end, new Uint16Array(size))
      earlier = wider(earlier, new Int32Array(size))
    }
    const first = count
    const blocks = Math.min(lively.rows - 1, Math.floor(y / BLOCK_ROWS)) * lively.columns
    for (let block = 0; block < lively.columns; block += 1) {
      if (lively.alive[blocks + block] === 0) continue
      const from = block
      while (block + 1 < lively.columns && lively.alive[blocks + block + 1] === 1) block += 1
      const [left, right] = [from * BLOCK_COLUMNS, Math.min(width, (block + 1) * BLOCK_COLUMNS)]
      if (smooth) smoothRow(image, y, left, right, smoothSums, row)
      else row.set(data.subarray(y * width + left, y * width + right), left)
      if (inside) writeLimits(columnSums, radius, rows, offset, left, right, limits)
      count = scanRow(rowWords, limitWords, left, right, count, start, end)
    }
    joinRow(start, end, earlier, aboveFirst, aboveLast, first, count)
    aboveFirst = first
    aboveLast = count
    firstOfRow[y + 1] = count
  }
  return { count, firstOfRow, start, end, earlier }
}

/** What the pixels of columns `left` to `right` must stay under. */
function writeLimits(
  columnSums: Int32Array,
  radius: number,
  rows: number,
  offset: number,
  left: number,
  right: number,
  limits: Uint8Array,
): void {
  const width = columnSums.length
  // A little less than the mean, so that rounding never makes even ground dark; and one more, as a whole code value lies under the limit exactly where it lies under the next whole one.
  const above = 1 - offset - 1e-6
  const full = 2 * radius + 1
  const share = 1 / (rows * full)
  const last = Math.min(width, (right + 1) >> 1)
  let x = left >> 1
  let sum = 0
  for (let near = Math.max(0, x - radius); near < Math.min(width, x + radius); near += 1)
    sum += columnSums[near]!
  for (; x < last; x += 1) {
    if (x + radius < width) sum += columnSums[x + radius]!
    const columns = Math.min(width - 1, x + radius) - Math.max(0, x - radius) + 1
    const limit =
      Math.min(255, Math.max(0, sum * (columns === full ? share : 1 / (rows * columns)) + above)) | 0
    limits[2 * x] = limit
    limits[2 * x + 1] = limit
    if (x >= radius) sum -= columnSums[x - radius]!
  }
  // An odd last column goes with its neighbour.
  for (let column = 2 * last; column < right; column += 1) limits[column] = limits[column - 1] ?? 0
}

function scanRow(
  row: Uint32Array,
  limits: Uint32Array,
  left: number,
  right: number,
  first: number,
  start: Uint16Array,
  end: Uint16Array,
): number {
  let count = first
  let inside = 0
  for (let from = left; from < right; from += WORD) {
    let dark = 0
    for (let four = from >> 2, bit = 0; bit < WORD; four += 1, bit += 4)
      dark |= fourUnder(row[four]!, limits[four]!) << bit
    let changes = dark ^ ((dark << 1) | inside)
    while (changes !== 0) {
      const lowest = changes & -changes
      const x = from + 31 - Math.clz32(lowest)
      if ((dark & lowest) !== 0) start[count] = x
      else end[count++] = x
      changes ^= lowest
    }
    inside = dark >>> 31
  }
  if (inside === 1) end[count++] = right
  return count
}

/** The high bit of each byte of a word. */
const HIGH = 0x80808080 | 0

/**
 * Which of four bytes lie under four others, as four bits, the lowest byte's the lowest: subtraction byte by byte within a word (H. Warren, Hacker's Delight, Addison-Wesley
 * 2003, section 2-17), without branching: noise would make every branch a wrong guess.
 */
function fourUnder(bytes: number, limits: number): number {
  const notUnder = (bytes | HIGH) - (limits & ~HIGH)
  const under = ((~bytes & limits) | (~(bytes ^ limits) & ~notUnder)) & HIGH
  return Math.imul(under >>> 7, 0x10204080) >>> 28
}

/** Joins the runs of a row (`first` to `last`) with those they touch in the row above. */
function joinRow(
  start: Uint16Array,
  end: Uint16Array,
  earlier: Int32Array,
  aboveFirst: number,
  aboveLast: number,
  first: number,
  last: number,
): void {
  let above = aboveFirst
  for (let run = first; run < last; run += 1) {
    earlier[run] = run
    const from = start[run]!
    const to = end[run]!
    while (above < aboveLast && end[above]! <= from) above += 1
    if (above >= aboveLast || start[above]! >= to) continue
    let root = rootOf(earlier, above)
    earlier[run] = root
    for (let other = above + 1; other < aboveLast && start[other]! < to; other += 1) {
      const next = rootOf(earlier, other)
      if (next === root) continue
      // The least index stays the root.
      if (next < root) {
        earlier[root] = next
        root = next
      } else earlier[next] = root
    }
  }
}

function rootOf(earlier: Int32Array, run: number): number {
  let at = run
  let above = earlier[at]!
  while (above !== at) {
    above = earlier[above]!
    earlier[at] = above
    at = above
    above = earlier[at]!
  }
  return at
}

/** Smooths columns `left` to `right` of a row. */
function smoothRow(
  image: ByteImage,
  y: number,
  left: number,
  right: number,
  sums: Uint16Array,
  out: Uint8Array,
): void {
  const { width, height, data } = image
  const here = y * width
  const above = y === 0 ? here : here - width
  const below = y === height - 1 ? here : here + width
  const end = Math.min(width, right + 1)
  for (let x = Math.max(0, left - 1); x < end; x += 1)
    sums[x] = data[above + x]! + 2 * data[here + x]! + data[below + x]!
  let middle = sums[left]!
  let before = left === 0 ? middle : sums[left - 1]!
  for (let x = left; x < right; x += 1) {
    const after = x + 1 < width ? sums[x + 1]! : middle
    out[x] = (before + 2 * middle + after + 8) >> 4
    before = middle
    middle = after
  }
}

function wider<T extends Uint16Array | Int32Array>(from: T, to: T): T {
  to.set(from)
  return to
}

/** Takes row `entering` of the picture into the column sums and row `leaving` out of them, where there are such rows. */
function moveWindow(sums: Int32Array, image: ByteImage, entering: number, leaving: number): void {
  const { width, height, data } = image
  const from = entering * width
  const to = leaving * width
  if (entering < height && leaving >= 0)
    for (let x = 0; x < width; x += 1) sums[x]! += data[from + x]! - data[to + x]!
  else if (entering < height) for (let x = 0; x < width; x += 1) sums[x]! += data[from + x]!
  else if (leaving >= 0) for (let x = 0; x < width; x += 1) sums[x]! -= data[to + x]!
}
