import fc from 'fast-check'
import { expect, test } from 'vitest'
import { builtInGradings } from '../../src/grade/gradings/builtInGradings.js'
import { decide } from '../../src/grade/gradings/decide.js'
import { gradeFromDensity } from '../../src/grade/gradings/gradeFromDensity.js'
import type { Verdict } from '../../src/grade/judgement.js'
import type { MarkMeasurement } from '../../src/grade/marks/markMeasurement.js'
import { bracketRange } from '../../src/grade/range/bracketRange.js'
import { boxTo, composeHomographies, inverseHomography, mapPoint } from '../../src/math/homography.js'
import type { Point, Quad } from '../../src/math/point.js'
import { orderCorners } from '../../src/measure/density/cornerSet.js'
import { measureDensity } from '../../src/measure/density/density.js'
import { BOARD } from '../measure/boardReference.js'
import { formatLength } from '../../src/units/formatLength.js'
import { parseLength } from '../../src/units/parseLength.js'
import { printedEstimate } from '../../src/units/printedEstimate.js'
import { expectNear } from '../nearly.js'

fc.configureGlobal({ seed: 20260314, numRuns: 400 })

const numbers = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true })
const anyNumber = fc.oneof(fc.double(), fc.constantFrom(NaN, Infinity, -Infinity, 0, -0))

/** A convex quad in a picture of 2000 x 1000 px, clockwise from its top left: a rectangle, its corners moved by up to a fifth of a side. */
const quads: fc.Arbitrary<Quad> = fc
  .tuple(
    numbers(300, 800),
    numbers(300, 400),
    numbers(100, 900),
    numbers(80, 250),
    fc.array(numbers(-0.2, 0.2), { minLength: 8, maxLength: 8 }),
  )
  .map(([left, top, width, height, moved]) => {
    const at = (index: number, right: number, down: number): Point => [
      left + width * (right + moved[2 * index]!),
      top + height * (down + moved[2 * index + 1]!),
    ]
    return [at(0, 0, 0), at(1, 1, 0), at(2, 1, 1), at(3, 0, 1)]
  })
const STILL = { stillWidth: 2000, stillHeight: 1000, distanceM: null }
const densityOf = (corners: Quad, reference = BOARD, scale = 1) => {
  const still = { ...STILL, stillWidth: 2000 * scale, stillHeight: 1000 * scale }
  const measured = measureDensity(
    reference,
    { kind: 'corners', corners, sigmaPx: 0.5 * scale, method: 'hand' },
    still,
  )
  if (!measured.ok) throw new Error(measured.message)
  return measured.value.density
}

test('a length is read as it was printed, to the digit that was printed', () => {
  fc.assert(
    fc.property(
      numbers(0, 5000),
      fc.constantFrom('metric' as const, 'imperial' as const),
      (lengthM, system) => {
        const read = parseLength(formatLength(lengthM, system))
        expectNear(read.ok ? read.value : NaN, lengthM, { abs: system === 'metric' ? 0.00501 : 0.0153 })
      },
    ),
  )
})

test('any text is a length from nought on, finite, or a reason', () => {
  const text = fc.array(
    fc.oneof(
      fc.constantFrom('1', '.', ',', 'm', 'ft', "'", '"', '-', 'e', '999', ' ', '('),
      fc.string({ maxLength: 4 }),
    ),
    { maxLength: 8 },
  )
  fc.assert(
    fc.property(text, (parts) => {
      const read = parseLength(parts.join(''))
      return read.ok ? Number.isFinite(read.value) && read.value >= 0 : read.message !== ''
    }),
  )
})

test('a printed interval holds the one it is of, and no figure crosses its limit', () => {
  fc.assert(
    fc.property(
      numbers(0.1, 2000),
      numbers(0.001, 300),
      numbers(0.001, 300),
      numbers(1, 2000),
      (value, down, up, limit) => {
        // Nearer than the last decimal there is, nothing is told apart.
        fc.pre(Math.abs(value - limit) > 1e-8)
        const printed = printedEstimate({ value, low: value - down, high: value + up }, [limit])
        expect(Number(printed.low)).toBeLessThanOrEqual(value - down)
        expect(Number(printed.high)).toBeGreaterThanOrEqual(value + up)
        expect(Number(printed.value) >= limit).toBe(value >= limit)
      },
    ),
  )
})

test('a map and its way back lead to where one began', () => {
  fc.assert(
    fc.property(quads, numbers(0, 1), numbers(0, 1), (quad, x, y) => {
      const there = boxTo({ left: 0, top: 0, right: 1, bottom: 1 }, quad)
      const back = inverseHomography(there)!
      const [u, v] = mapPoint(back, ...mapPoint(there, x, y))
      expectNear(u, x, { abs: 1e-8 })
      expectNear(v, y, { abs: 1e-8 })
      const [s, t] = mapPoint(composeHomographies(back, there), x, y)
      expectNear(s, x, { abs: 1e-8 })
      expectNear(t, y, { abs: 1e-8 })
    }),
  )
})

test('corners are taken in one order whichever way round they are given, or refused by name', () => {
  fc.assert(
    fc.property(quads, (quad) => {
      const [a, b, c, d] = quad
      const clockwise = orderCorners(quad, 2000, 1000)
      expect(clockwise.ok && clockwise.value.corners).toEqual(quad)
      const other = orderCorners([a, d, c, b], 2000, 1000)
      expect(other.ok && other.value.corners).toEqual(quad)
      expect(orderCorners([a, c, b, d], 2000, 1000)).toMatchObject({ ok: false, code: 'corners-crossed' })
    }),
  )
  const wild = fc.tuple(...Array.from({ length: 4 }, () => fc.tuple(anyNumber, anyNumber)))
  fc.assert(
    fc.property(wild, (points) => {
      const told = orderCorners(points as unknown as Quad, 2000, 1000)
      return told.ok ? told.value.corners.flat().every(Number.isFinite) : told.message !== ''
    }),
  )
})

test('a reference s times as large has 1/s of the density, and a still s times as large s times', () => {
  fc.assert(
    fc.property(quads, numbers(0.2, 5), (quad, s) => {
      const density = densityOf(quad)
      const larger = {
        ...BOARD,
        widthM: BOARD.widthM * s,
        heightM: BOARD.heightM * s,
        widthToleranceM: BOARD.widthToleranceM * s,
        heightToleranceM: BOARD.heightToleranceM * s,
      }
      expectNear(densityOf(quad, larger).onTarget, density.onTarget / s, { rel: 1e-9 })
      const scaled = quad.map(([x, y]) => [x * s, y * s]) as unknown as Quad
      expectNear(densityOf(scaled, BOARD, s).onTarget, density.onTarget * s, { rel: 1e-9 })
      expect(density.low).toBeLessThan(density.onTarget)
      expect(density.high).toBeGreaterThan(density.onTarget)
    }),
  )
})

const ORDER: readonly Verdict[] = ['not met', 'not shown', 'met']

test('a verdict never rises with its limit nor falls with the density, and nothing that is not a number decides', () => {
  fc.assert(
    fc.property(
      numbers(0, 500),
      numbers(0, 200),
      numbers(0, 500),
      numbers(0, 100),
      (low, width, limit, more) => {
        const rank = (by: number, against: number): number =>
          ORDER.indexOf(decide({ low: low + by, high: low + by + width }, against))
        expect(rank(0, limit + more)).toBeLessThanOrEqual(rank(0, limit))
        expect(rank(more, limit)).toBeGreaterThanOrEqual(rank(0, limit))
      },
    ),
  )
  fc.assert(
    fc.property(anyNumber, anyNumber, anyNumber, (low, high, limit) => {
      const isSound = low <= high && !Number.isNaN(limit)
      return isSound || decide({ low, high }, limit) === 'not shown'
    }),
  )
})

test('a grade is one of the grading, and none falls as the density rises', () => {
  for (const { grading } of builtInGradings) {
    const ids = ['none', ...grading.grades.map(({ id }) => id)]
    fc.assert(
      fc.property(numbers(0, 2000), numbers(0, 100), numbers(0, 300), (low, width, more) => {
        const rank = (by: number): number =>
          ids.indexOf(gradeFromDensity({ low: low + by, high: low + by + width }, grading))
        expect(rank(0)).toBeGreaterThanOrEqual(0)
        expect(rank(more)).toBeGreaterThanOrEqual(rank(0))
      }),
    )
  }
})

test('a range between marks reaches no farther than the last mark that holds it', () => {
  fc.assert(
    fc.property(fc.array(fc.constantFrom(...ORDER), { minLength: 1, maxLength: 9 }), (verdicts) => {
      const marks = verdicts.map((_, index) => ({ distanceM: 3 * (index + 1) }) as MarkMeasurement)
      const { low, high, from, kind } = bracketRange(marks, verdicts)
      const last = verdicts.lastIndexOf('met')
      expect(kind).toBe(last < 0 ? 'none' : 'bracketed')
      expect(low).toBe(last < 0 ? null : marks[last]!.distanceM)
      if (low !== null && high !== null) expect(high).toBeGreaterThan(low)
      if (low !== null && from !== null) expect(from).toBeLessThanOrEqual(low)
    }),
  )
})
