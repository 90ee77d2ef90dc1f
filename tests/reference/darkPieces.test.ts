import { describe, expect, it } from 'vitest'
import { FRAME, boxCorners } from '../../src/chart/printed/chartGeometry.js'
import { darkPieces } from '../../src/chart/find/darkPieces.js'
import { darkRuns, type DarkRuns } from '../../src/chart/find/darkRuns.js'
import { livelyBlocks } from '../../src/chart/find/livelyBlocks.js'
import { outlineQuad } from '../../src/chart/find/outlineQuad.js'
import type { Point } from '../../src/math/point.js'
import { seededRandom } from '../../src/math/random.js'
import { halveBytes, type ByteImage } from '../../src/still/searchBytes.js'
import { withOpenCv } from '../support/openCv.js'

// Held against OpenCV 4.3: running sums, connected components of 4 neighbours, convex hulls.

const RADIUS = 2

function runsOf(image: ByteImage): DarkRuns {
  const half = halveBytes(image)
  return darkRuns(image, half, RADIUS, 0, false, livelyBlocks(half, image.width, image.height, 0))
}

/** The first run of the piece each pixel belongs to, -1 where it is not dark. */
function piecesAt({ firstOfRow, start, end, earlier }: DarkRuns, width: number, height: number): Int32Array {
  const piece = new Int32Array(width * height).fill(-1)
  for (let y = 0; y < height; y += 1)
    for (let run = firstOfRow[y]!; run < firstOfRow[y + 1]!; run += 1) {
      let first = run
      while (earlier[first] !== first) first = earlier[first]!
      piece.fill(first, y * width + start[run]!, y * width + end[run]!)
    }
  return piece
}

/** Which pixels are darker than the mean of their window in the picture at half size, by OpenCV's running sums. */
function darkByOpenCv({ width, height, data }: ByteImage, half: ByteImage): boolean[] {
  const sums = withOpenCv((cv, keep) => {
    const table = keep(new cv.Mat())
    cv.integral(keep(cv.matFromArray(half.height, half.width, cv.CV_8UC1, half.data)), table, cv.CV_64F)
    return table.data64F.slice()
  })
  const at = (x: number, y: number): number => sums[y * (half.width + 1) + x]!
  return Array.from({ length: width * height }, (_, pixel) => {
    const i = Math.min(half.width - 1, (pixel % width) >> 1)
    const j = Math.min(half.height - 1, Math.floor(pixel / width / 2))
    const [left, right] = [Math.max(0, i - RADIUS), Math.min(half.width, i + RADIUS + 1)]
    const [top, bottom] = [Math.max(0, j - RADIUS), Math.min(half.height, j + RADIUS + 1)]
    const sum = at(right, bottom) - at(left, bottom) - at(right, top) + at(left, top)
    return data[pixel]! < sum / ((right - left) * (bottom - top)) - 1e-6
  })
}

/** A dark frame with a dark right half, turned, in noise. */
function noisyFrame(turnRad: number, seed: number): ByteImage {
  const random = seededRandom(seed)
  const size = 120
  const corners = boxCorners(FRAME)
  const data = Uint8Array.from({ length: size * size }, (_, at) => {
    const [dx, dy] = [((at % size) + 0.5 - size / 2) / 6, (Math.floor(at / size) + 0.5 - size / 2) / 6]
    const x = 7 + dx * Math.cos(turnRad) + dy * Math.sin(turnRad)
    const y = 5 - dx * Math.sin(turnRad) + dy * Math.cos(turnRad)
    const inside = x > corners[0][0] && x < corners[2][0] && y > corners[0][1] && y < corners[2][1]
    const hole = x > 2.4 && x < 7 && y > 2.4 && y < 7.6
    return (inside && !hole ? 60 : 180) + 20 * random.normal()
  })
  return { width: size, height: size, data }
}

describe('dark runs', () => {
  it.each([
    [64, 20],
    [77, 41],
    [95, 30],
  ])('of a picture of %d x %d px of noise are OpenCV’s connected components', (width, height) => {
    const random = seededRandom(8)
    const data = Uint8Array.from({ length: width * height }, () => Math.floor(256 * random.uniform()))
    const image = { width, height, data }
    const piece = piecesAt(runsOf(image), width, height)
    const dark = darkByOpenCv(image, halveBytes(image))
    expect(Array.from(piece, (one) => one >= 0)).toEqual(dark)

    const { count, labels } = withOpenCv((cv, keep) => {
      const mask = keep(cv.matFromArray(height, width, cv.CV_8UC1, dark.map(Number)))
      const [labels, stats, centres] = [keep(new cv.Mat()), keep(new cv.Mat()), keep(new cv.Mat())]
      const count = cv.connectedComponentsWithStats(mask, labels, stats, centres, 4, cv.CV_32S)
      return { count, labels: labels.data32S.slice() }
    })
    // One piece for each of its labels (label 0 is what is not dark), and one label for each of our pieces.
    const pairs = new Set(Array.from(labels, (label, at) => `${label} ${piece[at]!}`))
    expect(count).toBeGreaterThan(20)
    expect(pairs.size).toBe(count)
    expect(new Set(piece).size).toBe(count)
  })
})

describe('the quad of a dark piece', () => {
  it.each([0, 0.12, -0.3, 0.5])('turned %d rad has four sides of OpenCV’s convex hull', (turnRad) => {
    const pieces = darkPieces(runsOfWindow(noisyFrame(turnRad, 3)), { leastSide: 7, mostSide: 110 })
    expect(pieces.count).toBeGreaterThan(0)
    for (let piece = 0; piece < pieces.count; piece += 1) {
      const quad = outlineQuad(pieces, piece, { x: new Float64Array(16), y: new Float64Array(16) })!
      const outline = Array.from({ length: pieces.rows[piece]! }, (_, row): Point[] => {
        const [at, y] = [pieces.first[piece]! + row, pieces.top[piece]! + row]
        return [
          [pieces.left[at]!, y],
          [pieces.right[at]!, y],
        ]
      }).flat()
      const hull = withOpenCv((cv, keep) => {
        const found = keep(new cv.Mat())
        cv.convexHull(keep(cv.matFromArray(outline.length, 1, cv.CV_32SC2, outline.flat())), found)
        return Array.from({ length: found.rows }, (_, k): Point => [
          found.data32S[2 * k]!,
          // Rows' middles stand for them.
          found.data32S[2 * k + 1]! + 0.5,
        ])
      })
      for (const [side, from] of quad.entries()) {
        const to = quad[(side + 1) % 4]!
        const length = Math.hypot(to[0] - from[0], to[1] - from[1])
        const inside = hull.map(
          ([x, y]) => ((to[0] - from[0]) * (y - from[1]) - (to[1] - from[1]) * (x - from[0])) / length,
        )
        expect(Math.min(...inside), 'encloses the hull').toBeGreaterThan(-1e-9)
        expect(inside.filter((off) => off < 1e-9).length, 'lies on one of its sides').toBeGreaterThanOrEqual(
          2,
        )
      }
    }
  })
})

/** Runs with a window wide enough for the frame's thick parts. */
function runsOfWindow(image: ByteImage): DarkRuns {
  const half = halveBytes(image)
  return darkRuns(image, half, 24, 0, true, livelyBlocks(half, image.width, image.height, 0))
}
