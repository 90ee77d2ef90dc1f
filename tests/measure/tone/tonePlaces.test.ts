import { describe, expect, it } from 'vitest'
import type { Quad } from '../../../src/math/point.js'
import { insideSpans } from '../../../src/measure/tone/insideSpans.js'
import { sideLines } from '../../../src/measure/edge/sideLine.js'

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
