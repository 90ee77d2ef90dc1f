import { describe, expect, it } from 'vitest'
import { FRAME, boxCorners, chartAreas, chartFace, inkAt } from '../../../src/chart/printed/chartGeometry.js'
import { darkPieces } from '../../../src/chart/find/darkPieces.js'
import { darkRuns, type DarkRuns } from '../../../src/chart/find/darkRuns.js'
import { livelyBlocks } from '../../../src/chart/find/livelyBlocks.js'
import { outlineQuad } from '../../../src/chart/find/outlineQuad.js'
import type { Quad } from '../../../src/math/point.js'
import { seededRandom } from '../../../src/math/random.js'
import { halveBytes, type ByteImage } from '../../../src/still/searchBytes.js'

const LIMITS = { leastSide: 7, mostSide: 110 }

/** An even picture with the bare chart drawn on it, turned about its middle; `ink`: what is drawn at a point of the chart. */
function drawn(
  pixelsPerModule: number,
  turnRad: number,
  ink: (x: number, y: number) => number,
): { image: ByteImage; corners: Quad } {
  const size = 120
  const [cos, sin] = [Math.cos(turnRad), Math.sin(turnRad)]
  const data = new Uint8Array(size * size)
  for (let j = 0; j < size; j += 1)
    for (let i = 0; i < size; i += 1) {
      const [dx, dy] = [(i + 0.5 - size / 2) / pixelsPerModule, (j + 0.5 - size / 2) / pixelsPerModule]
      data[j * size + i] = 200 - 160 * ink(7 + dx * cos + dy * sin, 5 - dx * sin + dy * cos)
    }
  const corner = ([x, y]: readonly [number, number]): readonly [number, number] => {
    const [dx, dy] = [(x - 7) * pixelsPerModule, (y - 5) * pixelsPerModule]
    return [size / 2 + dx * cos - dy * sin, size / 2 + dx * sin + dy * cos]
  }
  return {
    image: { width: size, height: size, data },
    corners: boxCorners(FRAME).map(corner) as unknown as Quad,
  }
}

/** Runs of a picture, where it spans so many code values. */
function runsOf(image: ByteImage, leastDn: number): DarkRuns {
  const half = halveBytes(image)
  return darkRuns(image, half, 2, 0, false, livelyBlocks(half, image.width, image.height, leastDn))
}

function quads(image: ByteImage): Quad[] {
  const pieces = darkPieces(runsOf(image, 0), LIMITS)
  const buffer = { x: new Float64Array(16), y: new Float64Array(16) }
  return Array.from({ length: pieces.count }, (_, piece) => outlineQuad(pieces, piece, buffer)).filter(
    (quad) => quad !== null,
  )
}

/** How far the farthest corner of `truth` lies from the nearest of `quad`, px. */
function offPx(quad: Quad, truth: Quad): number {
  return Math.max(...truth.map((t) => Math.min(...quad.map((q) => Math.hypot(q[0] - t[0], q[1] - t[1])))))
}

describe('dark pieces', () => {
  const areas = chartAreas(chartFace(3))
  for (const turnDeg of [0, 7, -14])
    it(`hold the chart's frame with its corners, turned ${turnDeg} degrees`, () => {
      const { image, corners } = drawn(3, (turnDeg * Math.PI) / 180, (x, y) => inkAt(areas, x, y))
      expect(Math.min(...quads(image).map((quad) => offPx(quad, corners)))).toBeLessThan(1.5)
    })

  it('leave out what is no frame: a filled box, and a thin line', () => {
    const box = drawn(2, 0, (x, y) => (x > 5 && x < 9 && y > 3 && y < 7 ? 1 : 0))
    expect(quads(box.image)).toEqual([])
    const line = drawn(3, 0.1, (x, y) => (Math.abs(y - 5) < 0.5 && x > -6 && x < 20 ? 1 : 0))
    expect(quads(line.image)).toEqual([])
  })

  it('see nothing dark on even ground, whatever its level', () => {
    for (const level of [0, 7, 100, 255]) {
      const image = { width: 64, height: 40, data: new Uint8Array(64 * 40).fill(level) }
      expect(runsOf(image, 0).count).toBe(0)
    }
  })

  it('are not looked for where nothing stands out', () => {
    const random = seededRandom(9)
    const { image } = drawn(3, 0.1, (x, y) => inkAt(areas, x, y))
    const noisy = { ...image, data: image.data.map((value) => value + Math.round(2 * random.uniform())) }
    expect(runsOf(noisy, 8).count).toBeLessThan(runsOf(noisy, 0).count / 4)
    expect(quads(noisy).length).toBeGreaterThan(0)
  })
})
