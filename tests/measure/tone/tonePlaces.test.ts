import { describe, expect, it } from 'vitest'
import type { Quad } from '../../../src/math/point.js'
import { seededRandom } from '../../../src/math/random.js'
import { insideSpans } from '../../../src/measure/tone/insideSpans.js'
import { sideLines } from '../../../src/measure/edge/sideLine.js'
import { squareRoom } from '../../../src/measure/tone/squareRoom.js'

const [WIDTH, HEIGHT] = [40, 30]

describe('the pixels inside an outline', () => {
  const outlines: readonly Quad[] = [
    [
      [112.3, 57.1],
      [131.8, 59.4],
      [129.2, 74.6],
      [109.9, 71.2],
    ],
    [
      [110, 56],
      [130, 56],
      [130, 70],
      [110, 70],
    ],
  ]
  it.each([-6, -1, 0, 2.5, 9])('are those whose centres lie %d px deep, in runs of rows', (depthPx) => {
    for (const corners of outlines) {
      const region = { left: 100, top: 50, width: WIDTH, height: HEIGHT }
      const lines = sideLines(corners)
      const spans = insideSpans(lines, region, depthPx)
      for (let j = 0; j < HEIGHT; j += 1) {
        for (let i = 0; i < WIDTH; i += 1) {
          const deep = Math.min(
            ...lines.map(
              ({ from, outward }) => (from[0] - 100.5 - i) * outward[0] + (from[1] - 50.5 - j) * outward[1],
            ),
          )
          if (Math.abs(deep - depthPx) < 1e-9) continue
          expect(i >= spans[2 * j]! && i < spans[2 * j + 1]!).toBe(deep > depthPx)
        }
      }
    }
  })
})

describe('room for squares', () => {
  it('is counted as by trying every square', () => {
    const random = seededRandom(3)
    const mask = Uint8Array.from({ length: WIDTH * HEIGHT }, () => (random.uniform() < 0.9 ? 1 : 0))
    const room = squareRoom(mask, WIDTH, HEIGHT)
    const full = (right: number, bottom: number, size: number): boolean => {
      for (let j = bottom - size + 1; j <= bottom; j += 1)
        for (let i = right - size + 1; i <= right; i += 1)
          if (i < 0 || j < 0 || mask[j * WIDTH + i] !== 1) return false
      return true
    }
    for (let size = 1; size <= 8; size += 1) {
      let places = 0
      for (let j = 0; j < HEIGHT; j += 1) {
        for (let i = 0; i < WIDTH; i += 1) {
          const fits = full(i, j, size)
          if (fits) places += 1
          expect(room.side[j * WIDTH + i]! >= size).toBe(fits)
        }
      }
      expect(room.places[size] ?? 0).toBe(places)
    }
  })
})
