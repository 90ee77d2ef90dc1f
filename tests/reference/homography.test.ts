import { describe, expect, it } from 'vitest'
import { fitHomography } from '../../src/math/fitHomography.js'
import {
  boxTo,
  composeHomographies,
  inverseHomography,
  jacobianAt,
  mapPoint,
  type Homography,
} from '../../src/math/homography.js'
import type { Point, Quad } from '../../src/math/point.js'
import { seededRandom } from '../../src/math/random.js'
import { expectNear } from '../nearly.js'
import { withOpenCv } from '../support/openCv.js'

/** The homography asked for, the last entry scaled to 1. */
function fitted(plane: readonly Point[], image: readonly Point[]): Homography {
  const fit = fitHomography(plane, image)
  if (!fit.ok) throw new Error(fit.message)
  return fit.value.homography.map((value) => value / fit.value.homography[8]!)
}

/** Nine entries, the last scaled to 1. */
function asHomography(entries: Float64Array): Homography {
  return Array.from(entries, (value) => value / entries[8]!) as unknown as Homography
}

/** Relative to the entries of its own row, so that a zero entry has something to be compared with. */
function expectSame(actual: Homography, expected: Homography, rel: number, why: string): void {
  for (const row of [0, 3, 6]) {
    const scale = Math.max(...[0, 1, 2].map((j) => Math.abs(expected[row + j]!)))
    for (const j of [0, 1, 2]) {
      expectNear(actual[row + j]!, expected[row + j]!, { abs: rel * scale }, `${why}: entry ${row + j}`)
    }
  }
}

/** Quadrilaterals with corners at eighths of a pixel: such numbers are exact in single precision too, in which OpenCV takes points. */
function quadsAtEighths(count: number): Quad[] {
  const random = seededRandom(11)
  const eighth = (middle: number, reach: number): number =>
    Math.round(8 * (middle + reach * (2 * random.uniform() - 1))) / 8
  return Array.from({ length: count }, () => {
    const [x, y] = [eighth(1800, 1500), eighth(1000, 800)]
    const [w, h] = [eighth(250, 200), eighth(150, 110)]
    const corner = (cx: number, cy: number): Point => [eighth(cx, 12), eighth(cy, 12)]
    return [corner(x, y), corner(x + w, y), corner(x + w, y + h), corner(x, y + h)]
  })
}

const rectangle: Quad = [
  [0, 0],
  [4.25, 0],
  [4.25, 0.875],
  [0, 0.875],
]

describe('four points', () => {
  it('agree with the closed form of the unit square (Heckbert, Fundamentals of Texture Mapping, 1989, 2.2.2)', () => {
    const square: Quad = [
      [0, 0],
      [1, 0],
      [1, 1],
      [0, 1],
    ]
    for (const quad of quadsAtEighths(200)) {
      const [[x0, y0], [x1, y1], [x2, y2], [x3, y3]] = quad
      const [sumX, sumY] = [x0 - x1 + x2 - x3, y0 - y1 + y2 - y3]
      const [dx1, dy1, dx2, dy2] = [x1 - x2, y1 - y2, x3 - x2, y3 - y2]
      const whole = dx1 * dy2 - dx2 * dy1
      const g = (sumX * dy2 - dx2 * sumY) / whole
      const h = (dx1 * sumY - sumX * dy1) / whole
      const closed = Float64Array.of(
        x1 - x0 + g * x1,
        x3 - x0 + h * x3,
        x0,
        y1 - y0 + g * y1,
        y3 - y0 + h * y3,
        y0,
        g,
        h,
        1,
      )
      const own = fitted(square, quad)
      expectSame(own, closed, 1e-9, JSON.stringify(quad))
      for (const [i, corner] of square.entries()) {
        const [x, y] = mapPoint(own, ...corner)
        expectNear(x, quad[i]![0], { rel: 1e-12 })
        expectNear(y, quad[i]![1], { rel: 1e-12 })
      }
    }
  })

  it('agree with getPerspectiveTransform of OpenCV, and so does the map of a level box', () => {
    const box = { left: 0, top: 0, right: rectangle[2][0], bottom: rectangle[2][1] }
    for (const quad of quadsAtEighths(100)) {
      const theirs = withOpenCv((cv, keep) => {
        const [from, to] = [rectangle, quad].map((points) =>
          keep(cv.matFromArray(4, 1, cv.CV_32FC2, points.flat())),
        )
        return asHomography(keep(cv.getPerspectiveTransform(from!, to!, cv.DECOMP_SVD)).data64F)
      })
      expectSame(fitted(rectangle, quad), theirs, 1e-12, JSON.stringify(quad))
      expectSame(asHomography(boxTo(box, quad)), theirs, 1e-12, `box onto ${JSON.stringify(quad)}`)
    }
  })

  it('have no homography where three lie in line, or all in one place', () => {
    const line: Quad = [
      [0, 0],
      [10, 10],
      [20, 20],
      [0, 20],
    ]
    expect(fitHomography(rectangle, line)).toMatchObject({ ok: false, code: 'not-determined' })
    expect(fitHomography(rectangle, [line[0], line[0], line[0], line[0]])).toMatchObject({
      ok: false,
      code: 'not-finite',
    })
    expect(fitHomography(rectangle, [line[0], [NaN, 1], line[2], line[3]])).toMatchObject({
      ok: false,
      code: 'not-finite',
    })
    expect(() => fitHomography(rectangle.slice(0, 3), line.slice(0, 3))).toThrow(/3 plane points/)
  })
})

describe('more points', () => {
  const random = seededRandom(4)
  const truth = Float64Array.of(420, 30, 900, -25, 400, 700, 0.06, -0.04, 1)
  const plane = Array.from({ length: 54 }, (_, i): Point => [(i % 9) / 8 - 0.5, Math.floor(i / 9) / 8 - 0.3])

  it('give back the exact homography from exact images', () => {
    expectSame(
      fitted(
        plane,
        plane.map((point) => mapPoint(truth, ...point)),
      ),
      truth,
      1e-9,
      'exact images',
    )
  })

  it('are fitted as findHomography of OpenCV fits them', () => {
    const random = seededRandom(5)
    // Numbers of single precision, in which OpenCV takes points.
    const known = plane.map(([x, y]): Point => [Math.fround(x), Math.fround(y)])
    const image = known.map((point): Point => {
      const [x, y] = mapPoint(truth, ...point)
      return [Math.fround(x + random.normal() / 2), Math.fround(y + random.normal() / 2)]
    })
    const theirs = withOpenCv((cv, keep) => {
      const [from, to] = [known, image].map((points) =>
        keep(cv.matFromArray(points.length, 1, cv.CV_32FC2, points.flat())),
      )
      return asHomography(keep(cv.findHomography(from!, to!)).data64F)
    })
    expectSame(fitted(known, image), theirs, 1e-6, 'noisy images; it stops after ten steps')
  })

  it('are fitted to the least squared distance: no nearby homography does better', () => {
    const image = plane.map((point): Point => {
      const [x, y] = mapPoint(truth, ...point)
      return [x + random.normal() / 2, y + random.normal() / 2]
    })
    const fit = fitHomography(plane, image)
    expect(fit.ok).toBe(true)
    if (!fit.ok) return
    const squares = (h: Homography): number =>
      plane.reduce((sum, point, i) => {
        const [x, y] = mapPoint(h, ...point)
        return sum + (x - image[i]![0]) ** 2 + (y - image[i]![1]) ** 2
      }, 0)
    const least = squares(fit.value.homography)
    expectNear(fit.value.rms, Math.sqrt(least / plane.length), { rel: 1e-12 })
    expect(least).toBeLessThan(squares(truth))
    for (let i = 0; i < 8; i++) {
      for (const by of [1e-5, -1e-5]) {
        const moved = fit.value.homography.map((value, j) => (j === i ? value * (1 + by) + by : value))
        expect(squares(moved)).toBeGreaterThan(least)
      }
    }
  })
})

describe('a homography', () => {
  const h = Float64Array.of(420, 30, 900, -25, 400, 700, 0.06, -0.04, 1)
  it('goes there and back', () => {
    const [x, y] = mapPoint(inverseHomography(h)!, ...mapPoint(h, 0.3, -0.2))
    expectNear(x, 0.3, { rel: 1e-12 })
    expectNear(y, -0.2, { rel: 1e-12 })
    const identity = composeHomographies(h, inverseHomography(h)!)
    for (const i of [1, 2, 3, 5, 6, 7]) expectNear(identity[i]! / identity[8]!, 0, { abs: 1e-12 })
  })
  it('has the Jacobian of its differences', () => {
    const { alongX, alongY } = jacobianAt(h, 0.3, -0.2)
    const s = 1e-5
    const difference = (a: Point, b: Point, i: 0 | 1): number =>
      (mapPoint(h, ...b)[i] - mapPoint(h, ...a)[i]) / (2 * s)
    for (const i of [0, 1] as const) {
      expectNear(alongX[i], difference([0.3 - s, -0.2], [0.3 + s, -0.2], i), { abs: 1e-6 })
      expectNear(alongY[i], difference([0.3, -0.2 - s], [0.3, -0.2 + s], i), { abs: 1e-6 })
    }
  })
})
