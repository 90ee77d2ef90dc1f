import type { Point } from '../math/point.js'
import type { DarkRuns } from './darkRuns.js'

/** Which pieces may be a chart's frame, px of the picture they were found in. */
export interface PieceLimits {
  readonly leastSide: number
  readonly mostSide: number
}

// Shares of the bounding box the frame with its dark half fills: 0.67 to 0.75 of the upright outline, less where it is rolled or turned, with
// room for noise. Sides of the bounding box from a chart turned 60 degrees to one lying on its side. This project's convention.
const LEAST_FILL = 0.3
const MOST_FILL = 0.88
const MOST_ASPECT = 2.8

/**
 * The outlines of the pieces that may be a chart's frame: of each, the points where its rows begin and end (rows' middles; columns at the
 * pixels' outer sides), first all left ends from top to bottom, then all right ends from bottom to top.
 */
export function darkPieceOutlines(runs: DarkRuns, limits: PieceLimits): Point[][] {
  const { count, pieces, piece, row, start, end } = runs
  const left = new Int32Array(pieces).fill(0x7fffffff)
  const right = new Int32Array(pieces)
  const top = new Int32Array(pieces).fill(-1)
  const bottom = new Int32Array(pieces)
  const area = new Int32Array(pieces)
  for (let run = 0; run < count; run += 1) {
    const at = piece[run]!
    if (start[run]! < left[at]!) left[at] = start[run]!
    if (end[run]! > right[at]!) right[at] = end[run]!
    if (top[at] === -1) top[at] = row[run]!
    bottom[at] = row[run]! + 1
    area[at]! += end[run]! - start[run]!
  }
  const chosen = new Int32Array(pieces).fill(-1)
  const spans: { left: Int32Array; right: Int32Array; top: number }[] = []
  for (let at = 0; at < pieces; at += 1) {
    const width = right[at]! - left[at]!
    const height = bottom[at]! - top[at]!
    if (width < limits.leastSide || height < limits.leastSide) continue
    if (width > limits.mostSide || height > limits.mostSide) continue
    if (width > MOST_ASPECT * height || height > MOST_ASPECT * width) continue
    const fill = area[at]! / (width * height)
    if (fill < LEAST_FILL || fill > MOST_FILL) continue
    chosen[at] = spans.length
    spans.push({
      left: new Int32Array(height).fill(0x7fffffff),
      right: new Int32Array(height),
      top: top[at]!,
    })
  }
  if (spans.length === 0) return []
  for (let run = 0; run < count; run += 1) {
    const index = chosen[piece[run]!]!
    if (index < 0) continue
    const span = spans[index]!
    const line = row[run]! - span.top
    if (start[run]! < span.left[line]!) span.left[line] = start[run]!
    if (end[run]! > span.right[line]!) span.right[line] = end[run]!
  }
  return spans.map((span) => {
    const outline: Point[] = []
    for (let line = 0; line < span.left.length; line += 1)
      outline.push([span.left[line]!, span.top + line + 0.5])
    for (let line = span.right.length - 1; line >= 0; line -= 1)
      outline.push([span.right[line]!, span.top + line + 0.5])
    return outline
  })
}
