import type { ByteImage } from '../still/searchBytes.js'

/** Runs of dark pixels, row by row, and the connected piece (4 neighbours) each belongs to. */
export interface DarkRuns {
  readonly count: number
  /** Row y has the runs `firstOfRow[y]` to `firstOfRow[y + 1]`. */
  readonly firstOfRow: Int32Array
  /** First column, and one past the last. */
  readonly start: Uint16Array
  readonly end: Uint16Array
  /** Index of the piece of a run, 0..pieces-1. */
  readonly piece: Int32Array
  readonly pieces: number
}

/**
 * Pixels darker by more than `offset` than the mean of the square window around them (`radius` pixels of the picture at half size to each
 * side), gathered into runs and connected pieces in one pass over the rows (union-find with path halving; R. Tarjan and J. van Leeuwen, J. ACM 31 (1984) 245). The window's mean is taken from the
 * picture at half size, `half`, which spares three quarters of that work. With `smooth`, the pixels compared are smoothed by the binomial
 * weights 1, 2, 1 along rows and columns.
 */
export function darkRuns(
  image: ByteImage,
  half: ByteImage,
  radius: number,
  offset: number,
  smooth: boolean,
): DarkRuns {
  const { width, height, data } = image
  const columnSums = new Int32Array(half.width)
  const limits = new Int32Array(half.width + 1)
  const smoothed = new Uint8Array(width)
  const smoothSums = new Uint16Array(width)
  const firstOfRow = new Int32Array(height + 1)
  let parent = new Int32Array(Math.max(1024, (width * height) >> 3))
  let start = new Uint16Array(parent.length)
  let end = new Uint16Array(parent.length)
  let count = 0
  let aboveFirst = 0
  let aboveLast = 0
  for (let y = 0; y < Math.min(radius, half.height); y += 1) moveWindow(columnSums, half, y, -1)
  for (let y = 0; y < height; y += 1) {
    const line = y >> 1
    if ((y & 1) === 0 && line < half.height) {
      moveWindow(columnSums, half, line + radius, line - radius - 1)
      const rows = Math.min(half.height - 1, line + radius) - Math.max(0, line - radius) + 1
      writeLimits(columnSums, radius, rows, offset, limits)
    }
    if (count + (width >> 1) + 2 > parent.length) {
      const size = 2 * parent.length
      start = wider(start, new Uint16Array(size))
      end = wider(end, new Uint16Array(size))
      parent = wider(parent, new Int32Array(size))
    }
    const first = count
    if (smooth) {
      smoothRow(image, y, smoothSums, smoothed)
      count = scanRow(smoothed, 0, width, limits, count, start, end)
    } else count = scanRow(data, y * width, width, limits, count, start, end)
    joinRow(start, end, parent, aboveFirst, aboveLast, first, count)
    aboveFirst = first
    aboveLast = count
    firstOfRow[y + 1] = count
  }
  let pieces = 0
  // A root has the least index of its piece, so its number is known before it is asked for; `parent` becomes the pieces' numbers in place.
  for (let run = 0; run < count; run += 1) {
    const above = parent[run]!
    parent[run] = above === run ? pieces++ : parent[above]!
  }
  return { count, firstOfRow, start, end, piece: parent, pieces }
}

/** What a pixel of each pair of columns must stay under. */
function writeLimits(
  columnSums: Int32Array,
  radius: number,
  rows: number,
  offset: number,

  limits: Int32Array,
): void {
  const width = columnSums.length
  // A little less than the mean, so that rounding never makes even ground dark.
  const below = offset + 1e-6
  const full = 2 * radius + 1
  const share = 1 / (rows * full)
  let sum = 0
  for (let x = 0; x < Math.min(radius, width); x += 1) sum += columnSums[x]!
  for (let x = 0; x < width; x += 1) {
    if (x + radius < width) sum += columnSums[x + radius]!
    if (x - radius - 1 >= 0) sum -= columnSums[x - radius - 1]!
    const columns = (x + radius < width ? radius : width - 1 - x) + (x >= radius ? radius : x) + 1
    // A whole code value lies under the limit exactly where it lies under the next whole one.
    limits[x] = Math.ceil(sum * (columns === full ? share : 1 / (rows * columns)) - below)
  }
  limits[width] = limits[width - 1] ?? 0
}

function scanRow(
  values: Uint8Array,
  from: number,
  width: number,
  limits: Int32Array,
  first: number,
  start: Uint16Array,
  end: Uint16Array,
): number {
  let count = first
  let inside = 0
  for (let left = 0; left < width; left += 32) {
    // 32 pixels at a time as the bits of a word, without branching: noise would make every branch a wrong guess. Two columns share a limit.
    const columns = Math.min(32, width - left)
    let dark = 0
    let at = from + left
    let pair = left >> 1
    for (let bit = 0; bit + 1 < columns; bit += 2, at += 2, pair += 1) {
      const limit = limits[pair]!
      dark |= (((values[at]! - limit) >>> 31) | (((values[at + 1]! - limit) >>> 31) << 1)) << bit
    }
    if ((columns & 1) === 1) dark |= ((values[at]! - limits[pair]!) >>> 31) << (columns - 1)
    let changes = dark ^ ((dark << 1) | inside)
    if (columns < 32) changes &= (1 << columns) - 1
    while (changes !== 0) {
      const lowest = changes & -changes
      const x = left + 31 - Math.clz32(lowest)
      if ((dark & lowest) !== 0) start[count] = x
      else end[count++] = x
      changes ^= lowest
    }
    inside = (dark >>> (columns - 1)) & 1
  }
  if (inside === 1) end[count++] = width
  return count
}

/** Joins the runs of a row (`first` to `last`) with those they touch in the row above. */
function joinRow(
  start: Uint16Array,
  end: Uint16Array,
  parent: Int32Array,
  aboveFirst: number,
  aboveLast: number,
  first: number,
  last: number,
): void {
  let above = aboveFirst
  for (let run = first; run < last; run += 1) {
    parent[run] = run
    const from = start[run]!
    const to = end[run]!
    while (above < aboveLast && end[above]! <= from) above += 1
    if (above >= aboveLast || start[above]! >= to) continue
    let root = rootOf(parent, above)
    parent[run] = root
    for (let other = above + 1; other < aboveLast && start[other]! < to; other += 1) {
      const next = rootOf(parent, other)
      if (next === root) continue
      // The least index stays the root.
      if (next < root) {
        parent[root] = next
        root = next
      } else parent[next] = root
    }
  }
}

function rootOf(parent: Int32Array, run: number): number {
  let at = run
  let above = parent[at]!
  while (above !== at) {
    above = parent[above]!
    parent[at] = above
    at = above
    above = parent[at]!
  }
  return at
}

function smoothRow(image: ByteImage, y: number, sums: Uint16Array, out: Uint8Array): void {
  const { width, height, data } = image
  const here = y * width
  const above = y === 0 ? here : here - width
  const below = y === height - 1 ? here : here + width
  for (let x = 0; x < width; x += 1) sums[x] = data[above + x]! + 2 * data[here + x]! + data[below + x]!
  let before = sums[0]!
  let middle = before
  for (let x = 0; x + 1 < width; x += 1) {
    const after = sums[x + 1]!
    out[x] = (before + 2 * middle + after + 8) >> 4
    before = middle
    middle = after
  }
  out[width - 1] = (before + 3 * middle + 8) >> 4
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
