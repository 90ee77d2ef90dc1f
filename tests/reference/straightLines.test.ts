import type { Outcome } from '../../src/math/outcome.js'
import { fitWeightedLine, type LineFit } from '../../src/math/weightedLine.js'
import { expectNear } from '../nearly.js'
import { fitLineErrorsInBoth } from '../support/lineErrorsInBoth.js'
import { describe, expect, it } from 'vitest'

function lineOf(fit: Outcome<LineFit>): LineFit {
  expect(fit.ok, JSON.stringify(fit)).toBe(true)
  if (!fit.ok) throw new Error(fit.message)
  return fit.value
}

describe('the calibration line of JCGM 100:2008, H.3', () => {
  const t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511]
  const b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16]
  const line = lineOf(fitWeightedLine(t.map((one, i) => ({ x: one - 20, y: b[i]!, weight: 1 }))))
  const scale = line.residualSum / line.dof

  it('has the printed intercept, slope, uncertainties and correlation', () => {
    expectNear(line.intercept, -0.1712, { abs: 5e-5 }, 'printed')
    expectNear(Math.sqrt(line.interceptVariance * scale), 0.0029, { abs: 5e-5 }, 'printed')
    expectNear(line.slope, 0.00218, { abs: 5e-6 }, 'printed')
    expectNear(Math.sqrt(line.slopeVariance * scale), 0.00067, { abs: 5e-6 }, 'printed')
    expectNear(
      line.covariance / Math.sqrt(line.interceptVariance * line.slopeVariance),
      -0.93,
      { abs: 5e-4 },
      'printed',
    )
    expectNear(Math.sqrt(scale), 0.0035, { abs: 5e-5 }, 'printed')
  })
  it('foretells the correction at 30 degrees with the printed uncertainty, the covariance included', () => {
    expectNear(line.intercept + 10 * line.slope, -0.1494, { abs: 5e-5 }, 'printed')
    const variance = line.interceptVariance + 100 * line.slopeVariance + 20 * line.covariance
    expectNear(Math.sqrt(variance * scale), 0.0041, { abs: 5e-5 }, 'printed')
  })
})

// NIST StRD linear regression, Norris, https://www.itl.nist.gov/div898/strd/lls/data/Norris.shtml
const norris: [number, number][] = [
  [0.2, 0.1],
  [337.4, 338.8],
  [118.2, 118.1],
  [884.6, 888.0],
  [10.1, 9.2],
  [226.5, 228.1],
  [666.3, 668.5],
  [996.3, 998.5],
  [448.6, 449.1],
  [777.0, 778.9],
  [558.2, 559.2],
  [0.4, 0.3],
  [0.6, 0.1],
  [775.5, 778.1],
  [666.9, 668.8],
  [338.0, 339.3],
  [447.5, 448.9],
  [11.6, 10.8],
  [556.0, 557.7],
  [228.1, 228.3],
  [995.8, 998.0],
  [887.6, 888.8],
  [120.2, 119.6],
  [0.3, 0.3],
  [0.3, 0.6],
  [556.8, 557.6],
  [339.1, 339.3],
  [887.2, 888.0],
  [999.0, 998.5],
  [779.0, 778.9],
  [11.1, 10.2],
  [118.3, 117.6],
  [229.2, 228.9],
  [669.1, 668.4],
  [448.9, 449.2],
  [0.5, 0.2],
]

describe('Norris of NIST', () => {
  it('has the certified line and uncertainties', () => {
    const line = lineOf(fitWeightedLine(norris.map(([x, y]) => ({ x, y, weight: 1 }))))
    const scale = line.residualSum / line.dof
    expectNear(line.intercept, -0.262323073774029, { rel: 1e-11 })
    expectNear(line.slope, 1.00211681802045, { rel: 1e-13 })
    expectNear(Math.sqrt(line.interceptVariance * scale), 0.232818234301152, { rel: 1e-11 })
    expectNear(Math.sqrt(line.slopeVariance * scale), 0.429796848199937e-3, { rel: 1e-11 })
    expectNear(Math.sqrt(scale), 0.884796396144373, { rel: 1e-11 })
  })
  it('has, weighted by sigma = 0.5 + 0.001 x, the line worked out in exact fractions', () => {
    const line = lineOf(fitWeightedLine(norris.map(([x, y]) => ({ x, y, weight: (0.5 + 0.001 * x) ** -2 }))))
    expectNear(line.intercept, -0.35623209044253, { rel: 1e-11 })
    expectNear(line.slope, 1.00237627819076, { rel: 1e-13 })
    expectNear(Math.sqrt(line.interceptVariance), 0.15019309753096, { rel: 1e-11 })
    expectNear(Math.sqrt(line.slopeVariance), 0.00046028019775786, { rel: 1e-11 })
    expectNear(line.covariance, -3.97221028872154e-5, { rel: 1e-11 })
    expectNear(line.residualSum, 26.9796596238732, { rel: 1e-11 })
  })
})

describe("Pearson's data with York's weights (Can. J. Phys. 44 (1966) 1079; Am. J. Phys. 72 (2004) 367, table II)", () => {
  const x = [0, 0.9, 1.8, 2.6, 3.3, 4.4, 5.2, 6.1, 6.5, 7.4]
  const weightX = [1000, 1000, 500, 800, 200, 80, 60, 20, 1.8, 1]
  const y = [5.9, 5.4, 4.4, 4.6, 3.5, 3.7, 2.8, 2.8, 2.4, 1.5]
  const weightY = [1, 1.8, 4, 8, 20, 20, 70, 70, 100, 500]
  const points = x.map((one, i) => ({ x: one, y: y[i]!, uX: weightX[i]! ** -0.5, uY: weightY[i]! ** -0.5 }))

  it('gives the published line with the uncertainties at the adjusted points', () => {
    const line = lineOf(fitLineErrorsInBoth(points))
    expectNear(line.intercept, 5.47991022403, { rel: 1e-11 })
    expectNear(line.slope, -0.48053340745, { rel: 1e-10 })
    expectNear(Math.sqrt(line.interceptVariance), 0.294970735, { rel: 2e-9 })
    expectNear(Math.sqrt(line.slopeVariance), 0.057985009, { rel: 2e-9 })
    expectNear(line.covariance, -0.0164725, { rel: 5e-6 })
    expectNear(line.residualSum, 11.86635319, { rel: 1e-9 })
    expect(line.dof).toBe(8)
  })
  it('gives the weighted line where x is exact', () => {
    const line = lineOf(fitLineErrorsInBoth(points.map((point) => ({ ...point, uX: 0 }))))
    expectNear(line.intercept, 6.10010929, { rel: 1e-8 })
    expectNear(line.slope, -0.61081295, { abs: 1e-8 }, 'printed cut off')
    expectNear(Math.sqrt(line.slopeVariance), 0.030087, { rel: 2e-5 })
  })
  it('gives the mirrored line where the axes are swapped', () => {
    const line = lineOf(fitLineErrorsInBoth(points))
    const swapped = lineOf(
      fitLineErrorsInBoth(points.map(({ x, y, uX, uY }) => ({ x: y, y: x, uX: uY, uY: uX }))),
    )
    expectNear(swapped.slope, 1 / line.slope, { rel: 1e-10 })
    expectNear(swapped.intercept, -line.intercept / line.slope, { rel: 1e-10 })
  })
})

describe('lines that are none', () => {
  it('names points that stand in one place, and numbers that are none', () => {
    const same = [1, 2].map((y) => ({ x: 3, y, weight: 1 }))
    expect(fitWeightedLine(same)).toMatchObject({ ok: false, code: 'not-determined' })
    expect(fitWeightedLine([])).toMatchObject({ ok: false, code: 'not-determined' })
    expect(fitWeightedLine([{ x: NaN, y: 1, weight: 1 }])).toMatchObject({ ok: false, code: 'not-finite' })
    expect(fitLineErrorsInBoth([{ x: 1, y: 1, uX: 0, uY: 0 }])).toMatchObject({
      ok: false,
      code: 'not-finite',
    })
  })
})
