import type { GreyImage } from './greyImage.js'

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
 * Pixels darker than the mean of the square window around them (`radius` pixels to each side, cut at the border) by more than `offset`,
 * gathered into runs and connected pieces in one pass over the rows (union-find with path halving; R. Tarjan and J. van Leeuwen,
 * J. ACM 31 (1984) 245).
 */
export function darkRuns(image: GreyImage, radius: number, offset: number): DarkRuns {
  const { width, height, data } = image
  const columnSums = new Float64Array(width)
  let capacity = Math.max(1024, (width * height) >> 3)
  let row = new Int32Array(capacity)
  let start = new Int32Array(capacity)
  let end = new Int32Array(capacity)
  let parent = new Int32Array(capacity)
  let count = 0
  const grow = (): void => {
    capacity *= 2
    const wider = (from: Int32Array): Int32Array<ArrayBuffer> => {
      const to = new Int32Array(capacity)
      to.set(from)
      return to
    }
    row = wider(row)
    start = wider(start)
    end = wider(end)
    parent = wider(parent)
  }
  const rootOf = (run: number): number => {
    let at = run
    while (parent[at] !== at) {
      parent[at] = parent[parent[at]!]!
      at = parent[at]!
    }
    return at
  }
  for (let y = 0; y < Math.min(radius, height); y += 1) addRow(columnSums, data, y * width, width, 1)
  let aboveFirst = 0
  let aboveLast = 0
  for (let y = 0; y < height; y += 1) {
    if (y + radius < height) addRow(columnSums, data, (y + radius) * width, width, 1)
    if (y - radius - 1 >= 0) addRow(columnSums, data, (y - radius - 1) * width, width, -1)
    const rows = Math.min(height - 1, y + radius) - Math.max(0, y - radius) + 1
    while (count + (width >> 1) + 2 > capacity) grow()
    const first = count
    let sum = 0
    for (let x = 0; x < Math.min(radius, width); x += 1) sum += columnSums[x]!
    let inside = false
    const base = y * width
    for (let x = 0; x < width; x += 1) {
      if (x + radius < width) sum += columnSums[x + radius]!
      if (x - radius - 1 >= 0) sum -= columnSums[x - radius - 1]!
      const columns = (x + radius < width ? radius : width - 1 - x) + (x >= radius ? radius : x) + 1
      const dark = (data[base + x]! + offset) * (rows * columns) < sum
      if (dark !== inside) {
        if (dark) {
          row[count] = y
          start[count] = x
          parent[count] = count
        } else {
          end[count] = x
          count += 1
        }
        inside = dark
      }
    }
    if (inside) {
      end[count] = width
      count += 1
    }
    let above = aboveFirst
    for (let run = first; run < count; run += 1) {
      while (above < aboveLast && end[above]! <= start[run]!) above += 1
      for (let other = above; other < aboveLast && start[other]! < end[run]!; other += 1) {
        const a = rootOf(run)
        const b = rootOf(other)
        if (a < b) parent[b] = a
        else parent[a] = b
      }
    }
    aboveFirst = first
    aboveLast = count
  }
  const piece = new Int32Array(count)
  let pieces = 0
  for (let run = 0; run < count; run += 1) {
    const root = rootOf(run)
    piece[run] = root === run ? pieces++ : piece[root]!
  }
  return { count, row, start, end, piece, pieces }
}

function addRow(sums: Float64Array, data: Float32Array, from: number, width: number, sign: 1 | -1): void {
  if (sign === 1) for (let x = 0; x < width; x += 1) sums[x]! += data[from + x]!
  else for (let x = 0; x < width; x += 1) sums[x]! -= data[from + x]!
}
