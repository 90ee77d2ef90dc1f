import { describe, expect, it } from 'vitest'
import { chooseAxis } from '../../../src/grade/marks/chooseAxis.js'
import { combineRepeats } from '../../../src/grade/marks/combineRepeats.js'
import { MODEL_FREEDOM_REL } from '../../../src/grade/range/fitRange.js'
import { fitOfMarks } from '../fitOfMarks.js'
import type { RangeFit } from '../../../src/grade/range/rangeFit.js'
import { densityAt } from '../../../src/grade/range/densityAt.js'
import { rangeOnLine } from '../../../src/grade/range/rangeOnLine.js'
import { expectNear } from '../../nearly.js'
import { stillOf, type StillParts } from '../stillOf.js'

const MARKS = [4, 6, 9, 12, 16, 20]
const conditions = { distanceToleranceM: 0.05, lensKnown: true }

function fitOf(parts: readonly StillParts[], known = conditions): RangeFit {
  const fit = fitOfMarks(combineRepeats(parts.map(stillOf)), known)
  if (fit === null) throw new Error('no mark')
  return fit
}
const exact = (distanceM: number): StillParts => ({ distanceM, horizontal: 2000 / distanceM })

describe('chooseAxis', () => {
  const axisOf = (parts: StillParts) => chooseAxis(combineRepeats([stillOf(parts)])[0]!)

  it('takes the better known axis', () => {
    const plate = { horizontal: 200, vertical: 195, cornersRel: 0.005, verticalCornersRel: 0.05 }
    expect(axisOf(plate)).toBe('horizontal')
  })

  it('takes the other where it exceeds the better known by more than their joint U', () => {
    const yawed = { horizontal: 180, vertical: 200, cornersRel: 0.005, verticalCornersRel: 0.01 }
    expect(axisOf(yawed)).toBe('vertical')
    expect(axisOf({ ...yawed, verticalCornersRel: 0.06 })).toBe('horizontal')
  })

  it('takes the full width of a board whose height the camera above it shortens', () => {
    expect(axisOf({ horizontal: 200, vertical: 180, cornersRel: 0.006, verticalCornersRel: 0.005 })).toBe(
      'horizontal',
    )
  })
})

describe('fitRange', () => {
  it('finds the constant and the ranges of exact marks', () => {
    const fit = fitOf(MARKS.map(exact))
    expectNear(Math.exp(fit.constant.logConstant), 2000, { rel: 1e-9 }, 'exact')
    expectNear(fit.constant.offsetM, 0, { abs: 1e-9 }, 'exact')
    const range = rangeOnLine(fit, 125)
    expectNear(range.value, 16, { rel: 1e-6 }, '2000 / 125')
    expect(range.low).toBeLessThan(16)
    expect(range.high).toBeGreaterThan(16)
    expect(range.from).toBeNull()
  })

  it('gives the distances at which the density’s own interval touches the limit (Fieller)', () => {
    const fit = fitOf(MARKS.map(exact))
    const range = rangeOnLine(fit, 125)
    expectNear(densityAt(fit, range.low).low, 125, { rel: 1e-6 })
    expectNear(densityAt(fit, range.high).high, 125, { rel: 1e-6 })
  })

  it('answers with one mark already, its own and where the tape measure starts in the interval', () => {
    const { value, low, high } = densityAt(fitOf([exact(16)]), 16)
    expectNear(value, 125, { rel: 1e-12 }, '2000 / 16')
    const u = Math.hypot(0.005, 0.05 / Math.sqrt(3) / 16, 0.2 / 16)
    expectNear(Math.log(high / low), 4 * u, { rel: 1e-9 }, 'corners, tape and its start')
    expect(fitOfMarks([], conditions)).toBeNull()
  })

  it('asks for a reference held square: a shortened axis counts at its mark, not at a distance', () => {
    const pitched = MARKS.map((distanceM) => ({ ...exact(distanceM), vertical: (0.9 * 2000) / distanceM }))
    const fit = fitOf(pitched)
    expectNear(Math.exp(fit.constant.logConstant), 2000, { rel: 1e-9 }, 'the full width is fitted')
    expectNear(rangeOnLine(fit, 125).value, 16, { rel: 1e-6 })
  })

  it('is as sure at every distance: the tape errs at the marks, not at the distance that is asked for', () => {
    const fit = fitOf(MARKS.map(exact))
    const [near, far] = [densityAt(fit, 3), densityAt(fit, 30)]
    expectNear(near.high / near.low, far.high / far.low, { rel: 1e-12 })
  })

  it('puts half the greatest bend back, and leaves the other half open', () => {
    const bendRel = 0.01 / Math.sqrt(3)
    const fit = fitOf(MARKS.map((d) => ({ ...exact(d), common: { bendRel } })))
    expectNear(fit.constant.logConstant, Math.log(2000) + 0.005, { abs: 1e-9 })
    const plain = fitOf(MARKS.map(exact)).constant.covariance[0]![0]!
    expectNear(fit.constant.covariance[0]![0]!, plain + (bendRel / 2) ** 2, { rel: 1e-9 })
  })

  it('adds common draws by refitting, not as noise of each mark', () => {
    const shared = { sizeRel: 0.02 }
    const fit = fitOf(MARKS.map((d) => ({ ...exact(d), common: shared })))
    const { low, value } = rangeOnLine(fit, 125)
    const without = rangeOnLine(fitOf(MARKS.map(exact)), 125)
    const own = 1 - without.low / without.value
    // A size wrong by 2 % moves every density and so the range by 2 %, however many marks there are.
    expectNear(1 - low / value, Math.hypot(own, 0.04), { rel: 0.05 }, 'in quadrature')
  })

  it('gives the model 1 % of freedom only where the lens is unknown and the field angles differ', () => {
    const freedom = (known: boolean, spread: boolean) => {
      const marks = combineRepeats(
        MARKS.map((d, i) => {
          const still = stillOf(exact(d))
          const shiftPx = spread ? 150 * i : 0
          const corners = still.measurement.corners.map(([x, y]): [number, number] => [x, y + shiftPx])
          return { ...still, measurement: { ...still.measurement, corners } }
        }),
      )
      const fit = fitOfMarks(marks, { distanceToleranceM: 0.05, lensKnown: known })
      return fit?.marks[0]!.point.modelRel
    }
    expect(freedom(false, true)).toBe(MODEL_FREEDOM_REL)
    expect(freedom(false, false)).toBe(0)
    expect(freedom(true, true)).toBe(0)
  })
})

describe('a length', () => {
  it('is fitted along itself, its own density being the one on target', () => {
    const staffs = MARKS.map((d) => {
      const { measurement, ...place } = stillOf(exact(d))
      const along = { ...measurement.budget.horizontal!, sizeRel: 0.0006 }
      const { onTarget } = measurement.density
      const density = {
        horizontal: null,
        horizontalU: null,
        vertical: null,
        verticalU: null,
        onTarget,
        low: onTarget * 0.99,
        high: onTarget * 1.01,
        facing: null,
      }
      return {
        ...place,
        measurement: { ...measurement, density, budget: { horizontal: null, vertical: null, along } },
      }
    })
    const fit = fitOfMarks(combineRepeats(staffs), conditions)
    if (fit === null) throw new Error('no mark')
    const { low, value, high } = rangeOnLine(fit, 125)
    expectNear(value, 16, { rel: 1e-6 }, '2000 / 125')
    expectNear(high / value, value / low, { rel: 1e-3 }, 'one axis, so both ends lie alike')
  })
})

describe('the suspect mark', () => {
  const withWrong = (index: number, ratio: number) =>
    MARKS.map((d, i) => ({ distanceM: d, horizontal: 2000 / (i === index ? d * ratio : d) }))

  it('is named with the distance it fits, and left out', () => {
    const fit = fitOf(withWrong(4, 1.2))
    expect(fit.suspect?.mark.distanceM).toBe(16)
    expectNear(fit.suspect!.fitsM.value, 19.2, { rel: 1e-3 }, '16 m wrong by a fifth')
    expect(fit.marks.map(({ mark }) => mark.distanceM)).toEqual([4, 6, 9, 12, 20])
    expectNear(Math.exp(fit.constant.logConstant), 2000, { rel: 1e-9 }, 'the rest is exact')
  })

  it('is one at most, and widens the fit where the rest still disagrees', () => {
    const parts = withWrong(4, 1.2).map((part, i) => (i === 1 ? { ...part, horizontal: 2000 / 7.2 } : part))
    const fit = fitOf(parts)
    expect(fit.marks.length).toBe(5)
    expect(fit.widening).toBeGreaterThan(2)
    expect(fit.dof).toBe(4)
  })

  it('is looked for only where three marks remain', () => {
    const three = [4, 9, 16].map((d, i) => ({ distanceM: d, horizontal: 2000 / (i === 2 ? 19.2 : d) }))
    expect(fitOf(three).suspect).toBeNull()
    expect(fitOf([...three, exact(20)]).suspect?.mark.distanceM).toBe(16)
  })

  it('is none where all agree within their uncertainty', () => {
    expect(fitOf(withWrong(4, 1.01)).suspect).toBeNull()
  })
})
