import { type FitPoint, fitConstant, OFFSET_PRIOR_M } from '../../src/grade/range/fitConstant.js'
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
      const fitted = fitConstant(points)
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
      const u = Math.sqrt(
        points.reduce((sum, point, i) => {
          const rel = Math.hypot(point.ownRel, point.tapeM / (point.distanceM + fitted.offsetM))
          return sum + (fitted.logConstantOf.ofPoints[i]! * rel) ** 2
        }, 0) +
          (fitted.logConstantOf.ofPrior * OFFSET_PRIOR_M) ** 2,
      )
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
    }))
    const fitted = fitConstant(points)
    expectNear(Math.exp(fitted.logConstant), 1500, { rel: 1e-6 }, 'exact data')
    expectNear(fitted.offsetM, 0.05, { abs: 1e-6 }, 'exact data')
    expect(fitted.chi2).toBeLessThan((0.05 / OFFSET_PRIOR_M) ** 2 + 1e-3)
  })

  it('answers to a relative change of one density as its sensitivities say', () => {
    const points = pointsOf(9, 0.01, 0.03)
    const before = fitConstant(points)
    const moved = points.map((point, i) =>
      i === 2 ? { ...point, densityPxPerM: point.densityPxPerM * Math.exp(1e-4) } : point,
    )
    const after = fitConstant(moved)
    const slope = (after.logConstant - before.logConstant) / 1e-4
    expectNear(slope, before.logConstantOf.ofPoints[2]!, { rel: 1e-2 }, 'central difference')
    expectNear((after.offsetM - before.offsetM) / 1e-4, before.offsetOf.ofPoints[2]!, { rel: 1e-2 })
  })
})
