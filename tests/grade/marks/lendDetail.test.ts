import { expect, it } from 'vitest'
import { builtInGrading } from '../../../src/grade/gradings/builtInGradings.js'
import type { PromiseResult, WalkJudgement } from '../../../src/grade/judgement.js'
import { judgeWalk } from '../../../src/grade/judgeWalk.js'
import { expectNear } from '../../nearly.js'
import { stillOf, type StillParts } from '../stillOf.js'

const ASSUMED = { toneLoad: 0.15, shapeRel: 0 }
const plateAt = (distanceM: number, more: StillParts = {}): StillParts => ({
  reference: 'plate',
  distanceM,
  factor: null,
  file: `stills/day/${distanceM}m plate.png`,
  ...more,
})
/** A board whose f10 is told to 1 %, of which nothing is its curve's unless `more` says so. */
const boardAt = (distanceM: number, more: StillParts = {}): StillParts => ({
  reference: 'board',
  distanceM,
  f10: 0.3,
  factor: 0.75,
  factorU: 0.0075,
  f10OwnU: 0.003,
  shared: { toneLoad: 0, shapeRel: 0 },
  ...more,
})

function judged(parts: readonly StillParts[], promise: object | null = null): WalkJudgement {
  return judgeWalk({
    stills: parts.map(stillOf),
    grading: builtInGrading('iec-62676-4-2014')!,
    judge: 'detail',
    lights: ['day', 'infrared'],
    references: ['plate', 'board', 'chart'],
    promises: promise === null ? [] : [{ grade: 'recognise', light: 'day', distanceM: 8, ...promise }],
    observations: [],
    distanceToleranceM: 0.05,
    lensKnown: false,
    promisedLens: null,
  })
}
const plates = (parts: readonly StillParts[]) =>
  judged(parts).marks.filter(({ reference, light }) => reference === 'plate' && light === 'day')

it('a plate takes its detail from a board whose marks enclose it, and its contrast stays its own', () => {
  const roseK = { detect: { k: 1.5, U: 0.5 } }
  const [mark] = plates([plateAt(8, { roseK }), boardAt(4), boardAt(12)])
  expect(mark).toMatchObject({ detailFrom: 'board', usable: false })
  expectNear(mark!.effectiveDensity!.value, 250 * 0.75, { rel: 1e-9 })
})

it('states of it the scatter between marks, 1 % that stills share, and the share of the curve', () => {
  const uOf = (parts: readonly StillParts[]): number => {
    // The plate's own corners out of the way.
    const { value, high } = plates([plateAt(8, { cornersRel: 1e-9 }), ...parts])[0]!.effectiveDensity!
    return Math.log(high / value) / 2
  }
  const logs = [Math.log(0.294), Math.log(0.306)]
  const scatter = Math.abs(logs[1]! - logs[0]!) / Math.SQRT2
  const between = [boardAt(4, { f10: 0.294 }), boardAt(12, { f10: 0.306 })]
  expectNear(uOf(between), Math.hypot(scatter, 0.01 / Math.sqrt(3)), { rel: 0.02 })
  const assumed = between.map((part) => ({ ...part, shared: ASSUMED }))
  const tone = (0.15 * 0.15) / Math.sqrt(3)
  expectNear(uOf(assumed), Math.hypot(scatter, 0.01 / Math.sqrt(3), tone), { rel: 0.03 })
})

it('reads a board by the curve that a chart of the same light tells', () => {
  const walked = [plateAt(8), ...[4, 12].map((d) => boardAt(d, { shared: ASSUMED }))]
  const chart: StillParts = {
    reference: 'chart',
    distanceM: 5,
    factor: null,
    tone: { exponent: { ln: 0.1, u: 0.02 } },
  }
  const alone = plates(walked)[0]!.effectiveDensity!
  const beside = plates([...walked, chart])[0]!.effectiveDensity!
  const other = plates([...walked, { ...chart, light: 'infrared' }])[0]!.effectiveDensity!
  expectNear(beside.value / alone.value, Math.exp(-0.15 * 0.1), { rel: 1e-9 })
  expect(beside.high - beside.low!).toBeLessThan(0.8 * (alone.high - alone.low!))
  expect(other).toEqual(alone)
})

it('takes nothing outside the marks that tell it, in another light or of another size of still, and says where it is told', () => {
  const [near, far] = plates([plateAt(8), plateAt(16), boardAt(4), boardAt(12)])
  expect(near!.why).toBe('detail taken from board')
  expect(far).toMatchObject({
    detailFrom: null,
    effectiveDensity: null,
    why: 'detail could not be measured; board shows it only from 4 m to 12 m',
  })
  const [unlit] = plates([plateAt(8), ...[4, 12].map((d) => boardAt(d, { light: 'infrared' }))])
  expect(unlit).toMatchObject({ detailFrom: null, why: 'detail could not be measured' })
  const small = stillOf(plateAt(8))
  const resized = { ...small, measurement: { ...small.measurement, width: 1920, height: 1080 } }
  const walk = {
    stills: [resized, ...[4, 12].map((d) => stillOf(boardAt(d)))],
    grading: builtInGrading('iec-62676-4-2014')!,
  }
  const rest = { judge: 'detail', lights: [], references: [], promises: [], observations: [] } as const
  const { marks } = judgeWalk({
    ...walk,
    ...rest,
    distanceToleranceM: 0.05,
    lensKnown: false,
    promisedLens: null,
  })
  expect(marks.find(({ reference }) => reference === 'plate')).toMatchObject({ detailFrom: null })
})

it('takes nothing from a board carried plainly nearer the middle of the picture, where lenses are sharper', () => {
  const boards = [boardAt(4), boardAt(12)]
  const outBy = (deg: number): StillParts => ({ rightPx: 2000 * (deg / 180) * Math.PI })
  expect(plates([plateAt(8, outBy(4)), ...boards])[0]).toMatchObject({ detailFrom: 'board' })
  expect(plates([plateAt(8, outBy(8)), boardAt(4, outBy(8)), boardAt(12)])[0]).toMatchObject({
    detailFrom: 'board',
  })
  expect(plates([plateAt(8, outBy(8)), ...boards])[0]).toMatchObject({
    detailFrom: null,
    effectiveDensity: null,
    why: 'detail could not be measured; board shows it only nearer the middle of the picture',
  })
})

it('takes it, of two that enclose the mark, from the one known best', () => {
  const rough = [4, 12].map((d) => boardAt(d, { shared: ASSUMED }))
  const chart = [4, 12].map((d) => boardAt(d, { reference: 'chart', f10: 0.28 }))
  expect(plates([plateAt(8), ...rough, ...chart])[0]).toMatchObject({ detailFrom: 'chart' })
  const nearChart = chart.map((part) => ({ ...part, distanceM: part.distanceM! / 2 }))
  expect(plates([plateAt(8), ...rough, ...nearChart])[0]).toMatchObject({ detailFrom: 'board' })
})

it('answers a promise and its ranges by the one fit, and both say where detail came from', () => {
  const walked = [4, 6, 9, 12].flatMap((d) => [plateAt(d), boardAt(d)])
  const { promises, ranges } = judged(walked, { reference: 'plate' })
  expect(promises[0]).toMatchObject({ verdict: 'met', byPixels: 'met', decidedBy: 'plate' })
  expectNear(promises[0]!.value!, 250 * 0.75, { rel: 1e-6 })
  expect(promises[0]!.why).toMatch(
    /^no measured still at 8 m. 183\.3 to 192\.4 px\/m with detail \(detail taken from board\) by all marks, 125 needed$/,
  )
  const identify = ranges.find(
    ({ reference, grade, basis }) => reference === 'plate' && grade === 'identify' && basis === 'detail',
  )
  expectNear(identify!.distance!, (2000 * 0.75) / 250, { rel: 1e-5 })
})

it('says of a promise beyond the marks that tell detail where they stand', () => {
  const walked = [...[4, 6, 9, 12, 16].map((d) => plateAt(d)), ...[4, 6, 9, 12].map((d) => boardAt(d))]
  const { promises } = judged(walked, { reference: 'plate', distanceM: 16, grade: 'observe' })
  expect(promises[0]).toMatchObject({
    verdict: 'not shown',
    byPixels: 'met',
    why: 'detail could not be measured at the 16 m mark; board shows it only from 4 m to 12 m',
    mend: 'carry a board, or judge by pixels',
  })
})

/** A board in focus with 5 % to spare of 70 px/m, its f10 known to 6.9 % as an assumed curve once had it, of which its corners have little. */
function fivePercentToSpare(more: StillParts): PromiseResult {
  const marks = [4, 6, 9, 12, 16].map((d) =>
    boardAt(d, { horizontal: (70 * 1.05 * 8) / 0.75 / d, common: { clickBiasRel: 0.002 }, ...more }),
  )
  return judgeWalk({
    stills: marks.map(stillOf),
    grading: { id: 'one', name: 'one', source: 'this test', grades: [{ id: 'g', name: 'G', limit: 70 }] },
    judge: 'detail',
    lights: ['day'],
    references: ['board'],
    promises: [{ grade: 'g', light: 'day', distanceM: 8 }],
    observations: [],
    distanceToleranceM: 0.05,
    lensKnown: false,
    promisedLens: null,
  }).promises[0]!
}

it('undecided by its detail, a clicked board is never told to be clicked closer', () => {
  const curve = { toneLoad: 0.4, shapeRel: 0 }
  const { verdict, low, high, mend } = fivePercentToSpare({ factorU: 0.069 * 0.75, shared: curve })
  expect(verdict).toBe('not shown')
  expectNear(low!, 68.4, { abs: 0.6 }, 'was 68.8')
  expectNear(high!, 79, { abs: 0.6 }, 'was 79.0')
  expect(mend).toMatch(
    /^carry the chart in that light.* largest part of the interval \(9\d %\) is the detail of board, read with an assumed tone curve$/,
  )
  expect(fivePercentToSpare({ factorU: 0.069 * 0.75 }).mend).toMatch(
    /^carry a larger board, or walk more marks with it\..* is the detail of board$/,
  )
})

it('with 5 % to spare it is met by what an exponent can do to its detail', () => {
  expect(fivePercentToSpare({ factorU: 0.028 * 0.75 }).verdict).toBe('met')
})
