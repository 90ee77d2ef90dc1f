import { describe, expect, it } from 'vitest'
import type { Quad } from '../../src/math/point.js'
import { measureDensity } from '../../src/measure/density/density.js'
import type { MeasuredDensity } from '../../src/measure/density/measuredDensity.js'
import { openStill } from '../../src/still/openStill.js'
import { expectNear } from '../nearly.js'
import { fixture, referenceResults } from '../support/fixtures.js'

// Photographs of a board of 9 x 6 inner corners, 25 mm apart (square_size in left_intrinsics.yml), and that file's
// calibration with distortion: Debian's opencv-doc 4.6.0. Corners, homography and projection by OpenCV itself (fixtures/reference/chessboardCorners.py).
const BOARD = {
  kind: 'rectangle',
  name: 'board',
  widthM: 0.2,
  heightM: 0.125,
  widthToleranceM: 0,
  heightToleranceM: 0,
  marking: 'plain',
} as const

// Densities at the board's centre, px/m along the 200 mm and the 125 mm side, written down beforehand: of four corners
// alone, and of the shipped calibration with distortion.
const KNOWN: Readonly<Record<string, readonly [number, number, number, number]>> = {
  left01: [1322, 1351, 1358, 1388],
  left02: [1308, 1820, 1360, 1885],
  left03: [1791, 1724, 1881, 1806],
  left04: [1662, 1696, 1731, 1768],
  left06: [1362, 1337, 1399, 1382],
  left07: [1283, 1136, 1314, 1160],
  left09: [1399, 1554, 1443, 1605],
  left11: [1640, 1333, 1699, 1381],
}

interface Photograph {
  readonly name: string
  readonly width: number
  readonly height: number
  readonly corners: Quad
  readonly fourCorners: readonly [number, number]
  readonly calibrated: readonly [number, number]
  readonly distanceM: number
  /** The board cut out of the photograph, and some of its codes. */
  readonly cut: {
    readonly width: number
    readonly height: number
    readonly codes: readonly (readonly [column: number, row: number, code: number])[]
  } | null
}

const photographs = referenceResults<Photograph[]>('chessboardCorners').filter(({ name }) => name in KNOWN)

function densityOf(photograph: Photograph, distanceM: number | null): MeasuredDensity {
  const measured = measureDensity(
    BOARD,
    { kind: 'corners', corners: photograph.corners, method: 'snapped', sigmaPx: 0.1 },
    { stillWidth: photograph.width, stillHeight: photograph.height, distanceM },
  )
  if (!measured.ok) throw new Error(measured.message)
  return measured.value
}

describe('the chessboard photographs of opencv-doc', () => {
  it('are there', () => {
    expect(photographs.map(({ name }) => name)).toEqual(Object.keys(KNOWN))
  })

  for (const photograph of photographs) {
    const { name, fourCorners, calibrated } = photograph

    it(`${name}: density from four corners is OpenCV's homography Jacobian`, () => {
      const { density } = densityOf(photograph, null)
      // OpenCV keeps points in single precision: 1e-6 and a little for their differences.
      expectNear(density.horizontal!, fourCorners[0], { rel: 1e-5 })
      expectNear(density.vertical!, fourCorners[1], { rel: 1e-5 })
      expect(density.onTarget).toBe(Math.min(density.horizontal!, density.vertical!))
      expectNear(density.horizontal!, KNOWN[name]![0], { rel: 1e-3 }, 'printed to four digits')
      expectNear(density.vertical!, KNOWN[name]![1], { rel: 1e-3 }, 'printed to four digits')
    })

    it(`${name}: the interval reaches the density of the calibration with distortion`, () => {
      expectNear(calibrated[0], KNOWN[name]![2], { abs: 0.6 }, 'printed to one px/m')
      expectNear(calibrated[1], KNOWN[name]![3], { abs: 0.6 }, 'printed to one px/m')
      for (const distanceM of [null, photograph.distanceM]) {
        const { density } = densityOf(photograph, distanceM)
        expect(density.low).toBeLessThanOrEqual(Math.min(...calibrated))
        expect(density.high).toBeGreaterThanOrEqual(Math.min(...calibrated))
        expect(density.horizontal! + density.horizontalU!).toBeGreaterThanOrEqual(calibrated[0])
        expect(density.vertical! + density.verticalU!).toBeGreaterThanOrEqual(calibrated[1])
        // The boards fill 0.37 to 0.53 of the frame: 2/sqrt(3) times 0.37 times the square of that is 12 % at the most.
        expect(density.high / density.onTarget, 'and no wider than the bend asks for').toBeLessThan(1.125)
      }
    })

    it(`${name}: opens as a still with the codes OpenCV reads`, async () => {
      const opened = await openStill(fixture(`photographs/${name}-board.jpg`))
      if (!opened.ok) throw new Error(opened.message)
      const still = opened.value
      const { width, height, codes } = photograph.cut!
      expect([still.width, still.height]).toEqual([width, height])
      const { data } = await still.region({ left: 0, top: 0, width, height })
      expect(codes.length).toBeGreaterThan(20)
      for (const [column, row, code] of codes) {
        expectNear(data[row * still.width + column]!, code, { abs: 1 }, 'two decoders round on their own')
      }
    })
  }
})
