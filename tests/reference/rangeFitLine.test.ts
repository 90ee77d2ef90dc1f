import { dot } from '../../src/math/normalEquations.js'
import { choleskyInverse } from '../../src/math/cholesky.js'
import {
  type FitPoint,
  fitConstant,
  OFFSET_PRIOR_M,
  START_PRIOR_M,
} from '../../src/grade/range/fitConstant.js'
import { seededRandom } from '../../src/math/random.js'
import { expectNear } from '../nearly.js'
import { fitLineErrorsInBoth } from '../support/lineErrorsInBoth.js'
import { describe, expect, it } from 'vitest'

// An independent formulation: 1/density = (d + a)/F is a straight line in d, and the prior a = 0 +/- 0.03 m is one more point on it, (0, 0) with
// u(x) = 0.03. That line is fitted by York's exact method (Can. J. Phys. 44 (1966) 1079; Am. J. Phys. 72 (2004) 367), which is itself
// held against Pearson's data with York's weights elsewhere here.
const YORK = 'York, Am. J. Phys. 72 (2004) 367'

function pointsOf(seed: number, ownRel: number, tapeM: number): FitPoint[] {
  const random = seededRandom(seed)
  const offsetM = OFFSET_PRIOR_M * random.normal()
  return [4, 6, 9, 12, 16, 20].map((distanceM) => ({
    distanceM: distanceM + tapeM * random.normal(),
    densityPxPerM: (2200 / (distanceM + offsetM)) * Math.exp(ownRel * random.normal()),
    ownRel,
    tapeM,
    modelRel: 0,
    loads: [],
  }))
}

describe('the fit of one constant', () => {
  it.each([
    [1, 0.005, 0.03],
    [2, 0.005, 0.03],
    [3, 0.01, 0.01],
    [4, 0.002, 0.1],
    [5, 0.03, 0.03],
  ])(
    'agrees with York’s line through the marks and the origin (walk %d, %d, %d m)',
    (seed, ownRel, tapeM) => {
      const points = pointsOf(seed, ownRel, tapeM)
      const fitted = fitConstant(points, OFFSET_PRIOR_M)
      const line = fitLineErrorsInBoth([
        { x: 0, y: 0, uX: OFFSET_PRIOR_M, uY: 0 },
        // York's uncertainty of y is absolute: the stated relative one at the fitted value, as logarithms have it.
        ...points.map(({ distanceM, densityPxPerM }) => ({
          x: distanceM,
          y: 1 / densityPxPerM,
          uX: tapeM,
          uY: (ownRel * (distanceM + fitted.offsetM)) / Math.exp(fitted.logConstant),
        })),
      ])
      if (!line.ok) throw new Error(line.message)
      const { intercept, slope, slopeVariance, residualSum } = line.value
      const u = Math.sqrt(fitted.covariance[0]![0]!)
      // The two differ in second order only: a twentieth of the standard uncertainty and less.
      expectNear(Math.exp(fitted.logConstant), 1 / slope, { rel: 0.05 * u }, YORK)
      expectNear(fitted.offsetM, intercept / slope, { abs: 0.05 * OFFSET_PRIOR_M }, YORK)
      expectNear(u, Math.sqrt(slopeVariance) / slope, { rel: 0.03 }, YORK)
      expectNear(fitted.chi2, residualSum, { rel: 0.05 }, YORK)
    },
  )

  it('finds an exact constant and offset where they agree with the prior of an untaped one', () => {
    // Without noise the offset is drawn to the prior by as much as its weight says, and to nothing else: with marks known far better than
    // the prior, it is found.
    const points = [2, 4, 8].map((distanceM) => ({
      distanceM,
      densityPxPerM: 1500 / (distanceM + 0.05),
      ownRel: 1e-6,
      tapeM: 0,
      modelRel: 0,
      loads: [],
    }))
    const fitted = fitConstant(points, OFFSET_PRIOR_M)
    expectNear(Math.exp(fitted.logConstant), 1500, { rel: 1e-6 }, 'exact data')
    expectNear(fitted.offsetM, 0.05, { abs: 1e-6 }, 'exact data')
    expect(fitted.chi2).toBeLessThan((0.05 / OFFSET_PRIOR_M) ** 2 + 1e-3)
  })

  it('answers to a relative change of one density as its sensitivities say', () => {
    const points = pointsOf(9, 0.01, 0.03)
    const before = fitConstant(points, OFFSET_PRIOR_M)
    const moved = points.map((point, i) =>
      i === 2 ? { ...point, densityPxPerM: point.densityPxPerM * Math.exp(1e-4) } : point,
    )
    const after = fitConstant(moved, OFFSET_PRIOR_M)
    const sensitivity = ({ weights, covariance, rows }: typeof before, k: number) =>
      weights[2]! * dot(covariance[k]!, rows[2]!)
    const slope = (after.logConstant - before.logConstant) / 1e-4
    expectNear(slope, sensitivity(before, 0), { rel: 1e-2 }, 'central difference')
    expectNear((after.offsetM - before.offsetM) / 1e-4, sensitivity(before, 1), { rel: 1e-2 })
  })

  it('is generalised least squares with the outer products of the shared draws in the covariance', () => {
    // Aitken's estimator (Proc. R. Soc. Edinb. 55 (1935) 42) with the covariance written out, and the prior of the start as one more datum.
    const loads = [4, 6, 9, 12, 16, 20].map((d) => [0.002, 0.1 / d ** 2, 0.0006 * d])
    const points = pointsOf(4, 0.004, 0.03).map((point, i) => ({ ...point, loads: loads[i]! }))
    const fitted = fitConstant(points)
    const n = points.length + 1
    const design = points.map(({ distanceM }) => [1, -1 / (distanceM + fitted.offsetM)])
    const data = points.map(
      ({ densityPxPerM, distanceM }, i) =>
        Math.log(densityPxPerM * (distanceM + fitted.offsetM)) + design[i]![1]! * fitted.offsetM,
    )
    design.push([0, 1])
    data.push(0)
    const covariance = Float64Array.from({ length: n * n }, (_, at) => {
      const [i, j] = [Math.floor(at / n), at % n]
      if (i === n - 1 || j === n - 1) return i === j ? START_PRIOR_M ** 2 : 0
      const own = Math.hypot(points[i]!.ownRel, points[i]!.tapeM / (points[i]!.distanceM + fitted.offsetM))
      return dot(loads[i]!, loads[j]!) + (i === j ? own ** 2 : 0)
    })
    const weight = choleskyInverse(covariance, n)!
    const product = (a: readonly number[], b: readonly number[]) =>
      a.reduce(
        (sum, each, i) => sum + each * b.reduce((row, other, j) => row + weight[i * n + j]! * other, 0),
        0,
      )
    const [ones, slopes] = [design.map((row) => row[0]!), design.map((row) => row[1]!)]
    const [ww, ws, ss] = [product(ones, ones), product(ones, slopes), product(slopes, slopes)]
    const determinant = ww * ss - ws * ws
    const logConstant = (ss * product(ones, data) - ws * product(slopes, data)) / determinant
    expectNear(fitted.logConstant, logConstant, { abs: 1e-9 }, 'Aitken 1935')
    expectNear(fitted.covariance[0]![0]!, ss / determinant, { rel: 1e-8 }, 'Aitken 1935')
    expectNear(fitted.covariance[1]![1]!, ww / determinant, { rel: 1e-8 }, 'Aitken 1935')
  })
})
