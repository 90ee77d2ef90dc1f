import type { ByteImage } from '../still/lumaBytes.js'

/** Runs of dark pixels, row by row, and the connected piece (4 neighbours) each belongs to. */
export interface DarkRuns {
  readonly count: number
  readonly row: Int32Array
  /** First column, and one past the last. */
  readonly start: Int32Array
  readonly end: Int32Array
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
  let row = new Int32Array(Math.max(1024, (width * height) >> 4))
  let start = new Int32Array(row.length)
  let end = new Int32Array(row.length)
  let parent = new Int32Array(row.length)
  let count = 0
  let aboveFirst = 0
  let aboveLast = 0
  for (let y = 0; y < Math.min(radius, half.height); y += 1) addRow(columnSums, half, y, 1)
  for (let y = 0; y < height; y += 1) {
    const line = y >> 1
    if ((y & 1) === 0 && line < half.height) {
      if (line + radius < half.height) addRow(columnSums, half, line + radius, 1)
      if (line - radius - 1 >= 0) addRow(columnSums, half, line - radius - 1, -1)
      const rows = Math.min(half.height - 1, line + radius) - Math.max(0, line - radius) + 1
      writeLimits(columnSums, radius, rows, offset, limits)
    }
    if (count + (width >> 1) + 2 > row.length) {
      const size = 2 * row.length
      row = wider(row, size)
      start = wider(start, size)
      end = wider(end, size)
      parent = wider(parent, size)
    }
    const first = count
    if (smooth) {
      smoothRow(image, y, smoothed)
      count = scanRow(smoothed, 0, width, limits, y, count, row, start, end)
    } else count = scanRow(data, y * width, width, limits, y, count, row, start, end)
    joinRow(start, end, parent, aboveFirst, aboveLast, first, count)
    aboveFirst = first
    aboveLast = count
  }
  let pieces = 0
  // A root has the least index of its piece, so its number is known before it is asked for; `parent` becomes the pieces' numbers in place.
  for (let run = 0; run < count; run += 1) {
    const above = parent[run]!
    parent[run] = above === run ? pieces++ : parent[above]!
  }
  return { count, row, start, end, piece: parent, pieces }
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
  let sum = 0
  for (let x = 0; x < Math.min(radius, width); x += 1) sum += columnSums[x]!
  for (let x = 0; x < width; x += 1) {
    if (x + radius < width) sum += columnSums[x + radius]!
    if (x - radius - 1 >= 0) sum -= columnSums[x - radius - 1]!
    const columns = Math.min(width - 1, x + radius) - Math.max(0, x - radius) + 1
    // A whole code value lies under the limit exactly where it lies under the next whole one.
    limits[x] = Math.ceil(sum / (rows * columns) - offset)
  }
  limits[width] = limits[width - 1] ?? 0
}

function scanRow(
  values: Uint8Array,
  from: number,
  width: number,
  limits: Int32Array,
  y: number,
  first: number,
  row: Int32Array,
  start: Int32Array,
  end: Int32Array,
): number {
  let count = first
  let inside = false
  for (let x = 0; x < width; x += 1) {
    const dark = values[from + x]! < limits[x >> 1]!
    if (dark === inside) continue
    inside = dark
    if (dark) {
      row[count] = y
      start[count] = x
    } else {
      end[count] = x
      count += 1
    }
  }
  if (inside) {
    end[count] = width
    count += 1
  }
  return count
}

/** Joins the runs of a row (`first` to `last`) with those they touch in the row above. */
function joinRow(
  start: Int32Array,
  end: Int32Array,
  parent: Int32Array,
  aboveFirst: number,
  aboveLast: number,
  first: number,
  last: number,
): void {
  let above = aboveFirst
  for (let run = first; run < last; run += 1) {
    parent[run] = run
    const [from, to] = [start[run]!, end[run]!]
    while (above < aboveLast && end[above]! <= from) above += 1
    for (let other = above; other < aboveLast && start[other]! < to; other += 1) {
      const a = rootOf(parent, run)
      const b = rootOf(parent, other)
      if (a < b) parent[b] = a
      else parent[a] = b
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

function smoothRow(image: ByteImage, y: number, out: Uint8Array): void {
  const { width, height, data } = image
  const base = y * width
  if (y === 0 || y === height - 1) {
    for (let x = 0; x < width; x += 1) out[x] = data[base + x]!
    return
  }
  const columnAt = (x: number): number =>
    data[base + x - width]! + 2 * data[base + x]! + data[base + x + width]!
  let [before, here] = [columnAt(0), columnAt(0)]
  for (let x = 0; x < width; x += 1) {
    const after = x + 1 < width ? columnAt(x + 1) : here
    out[x] = (before + 2 * here + after + 8) >> 4
    before = here
    here = after
  }
}

function wider(from: Int32Array, size: number): Int32Array<ArrayBuffer> {
  const to = new Int32Array(size)
  to.set(from)
  return to
}

function addRow(sums: Int32Array, image: ByteImage, y: number, sign: 1 | -1): void {
  const { width, data } = image
  const from = y * width
  if (sign === 1) for (let x = 0; x < width; x += 1) sums[x]! += data[from + x]!
  else for (let x = 0; x < width; x += 1) sums[x]! -= data[from + x]!
}
