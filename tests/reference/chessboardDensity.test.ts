import { describe, expect, it } from 'vitest'
import { measureDensity } from '../../src/measure/density/density.js'
import type { RectangleReference } from '../../src/measure/reference/reference.js'
import type { Point, Quad } from '../../src/math/point.js'
import { expectNear } from '../nearly.js'

// Real photographs: the calibration samples left01 ... left11 of OpenCV 4.6 (Debian package opencv-doc, samples/data), 640 x 480, a chessboard of
// 25 mm squares whose inner corners span 200 x 125 mm. Outermost corners as found in the pictures, in coordinates of pixel centres.
// `exact`: the four-corner homography at the board's centre, px/m along both sides, worked out with OpenCV.
// `truth`: the density there from the calibration shipped with the samples, lens distortion included. `depthM`: from the same.
const photographs = [
  {
    name: 'left01',
    corners: [
      [244.4, 94.2],
      [513.8, 86.5],
      [510.4, 266.2],
      [248.8, 253.6],
    ],
    exact: [1322, 1351],
    truth: [1358, 1388],
    depthM: 0.383,
  },
  {
    name: 'left02',
    corners: [
      [256.2, 357.2],
      [251.5, 78.2],
      [540.0, 133.1],
      [437.8, 396.7],
    ],
    exact: [1308, 1820],
    truth: [1360, 1885],
    depthM: 0.284,
  },
  {
    name: 'left03',
    corners: [
      [277.2, 72.3],
      [603.7, 168.4],
      [544.7, 390.7],
      [187.3, 257.4],
    ],
    exact: [1791, 1724],
    truth: [1881, 1806],
    depthM: 0.281,
  },
  {
    name: 'left04',
    corners: [
      [188.6, 130.6],
      [514.6, 109.3],
      [522.0, 338.1],
      [179.4, 328.3],
    ],
    exact: [1662, 1696],
    truth: [1731, 1768],
    depthM: 0.3,
  },
  {
    name: 'left06',
    corners: [
      [589.0, 138.8],
      [550.2, 420.7],
      [390.2, 387.2],
      [417.0, 127.0],
    ],
    exact: [1362, 1337],
    truth: [1399, 1382],
    depthM: 0.372,
  },
  {
    name: 'left07',
    corners: [
      [368.9, 137.7],
      [281.9, 396.5],
      [151.6, 334.6],
      [230.2, 105.5],
    ],
    exact: [1283, 1136],
    truth: [1314, 1160],
    depthM: 0.405,
  },
  {
    name: 'left09',
    corners: [
      [219.2, 85.8],
      [504.7, 144.4],
      [469.2, 313.9],
      [189.7, 305.8],
    ],
    exact: [1399, 1554],
    truth: [1443, 1605],
    depthM: 0.331,
  },
  {
    name: 'left11',
    corners: [
      [413.6, 66.0],
      [455.9, 359.6],
      [301.6, 429.8],
      [238.4, 67.8],
    ],
    exact: [1640, 1333],
    truth: [1699, 1381],
    depthM: 0.314,
  },
] as const

const board: RectangleReference = {
  kind: 'rectangle',
  name: 'inner corners',
  widthM: 0.2,
  heightM: 0.125,
  widthToleranceM: 0.0002,
  heightToleranceM: 0.0002,
  marking: 'plain',
}

describe.each(photographs)('$name', ({ corners, exact, truth, depthM }) => {
  const quad = corners.map(([x, y]): Point => [x + 0.5, y + 0.5]) as unknown as Quad
  const measure = (distanceM: number | null) => {
    const measured = measureDensity(
      board,
      { kind: 'corners', corners: quad, sigmaPx: 0.2, method: 'snapped' },
      { stillWidth: 640, stillHeight: 480, distanceM },
    )
    if (!measured.ok) throw new Error(measured.message)
    return measured.value.density
  }

  it('has the density of the exact homography at its centre', () => {
    const { horizontal, vertical } = measure(null)
    // Corners are printed to 0.1 px of some 300, the density to 1 px/m.
    expectNear(horizontal!, exact[0], { rel: 1.2e-3 })
    expectNear(vertical!, exact[1], { rel: 1.2e-3 })
  })

  it.each([
    ['the share of the frame', null],
    ['the distance', depthM],
  ])('reads low by its lens, within what the bend by %s allows for', (_, distanceM) => {
    const { horizontal, horizontalU, vertical, verticalU, onTarget, low, high } = measure(distanceM)
    expect(horizontal!).toBeLessThan(truth[0])
    expect(horizontal! + horizontalU!).toBeGreaterThan(truth[0])
    expect(vertical!).toBeLessThan(truth[1])
    expect(vertical! + verticalU!).toBeGreaterThan(truth[1])
    const least = Math.min(...truth)
    expect(low).toBeLessThan(least)
    expect(high).toBeGreaterThan(least)
    expect(
      (high - onTarget) / onTarget,
      'and is of use: under 12 % even where it fills half the frame',
    ).toBeLessThan(0.12)
  })
})
