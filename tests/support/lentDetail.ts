import { BOARD, PLATE } from '../grade/simulatedWalk.js'
import type { JudgedStill, PromiseResult } from '../../src/grade/judgement.js'
import { judgeWalk } from '../../src/grade/judgeWalk.js'
import { seededRandom } from '../../src/math/random.js'
import { toneLoad } from '../../src/measure/edge/toneLoad.js'
import type { SharedDetail, ToneExponent } from '../../src/measure/stillMeasurement.js'
import { F, riskWalk } from './riskWalk.js'

const MARKS_M = [3, 4.5, 6, 8, 10, 13]
const FULL_DETAIL_AT = 0.4
/** Of a white board before dark ground. */
const TONE_LOAD = toneLoad('fit', 0.03, 0.8)

/** What became of walks of a plate whose camera shows a known detail: shares of those that were answered. */
export interface LentDetailRates {
  readonly walks: number
  readonly covered: number
  readonly meanU: number
  /** Met where truth is 1.05 or 0.999 of the limit, not met where it is 1.001 of it. */
  readonly metAbove: number
  readonly metUnder: number
  readonly notMetOver: number
}

/**
 * Walks of a plate and a board, whose corners are simulated; the board's f10 is drawn: the camera's (0.2 to 0.36 cycles/px, so that it counts), the exponent of its tone
 * curve as claimed, an error of up to 0.8 % at each mark and 0.5 % of each still. `withChart`: a chart in the same light tells the exponent to 0.025 in ln. The
 * promises are held on the plate at 8 m; a walk of which that mark was left out is none.
 */
export function lentDetailRates(
  walks: number,
  seed: number,
  { withChart, plate }: { readonly withChart: boolean; readonly plate: 'plate' | 'snapped' },
): LentDetailRates {
  const random = seededRandom(seed)
  const spread = (half: number): number => half * (2 * random.uniform() - 1)
  let [answered, covered, widths, metAbove, metUnder, notMetOver] = [0, 0, 0, 0, 0, 0]
  for (let walk = 0; walk < walks; walk += 1) {
    const f10 = 0.2 + 0.16 * random.uniform()
    const ln = spread(0.15)
    const exponent = withChart ? { ln: ln + 0.025 * random.normal(), u: 0.025 } : null
    const borrower =
      plate === 'plate' ? ([PLATE, 'hand'] as const) : ([{ ...BOARD, name: 'plate' }, 'snapped'] as const)
    const stills = riskWalk([borrower, [BOARD, 'snapped']], MARKS_M, random).map((still) => {
      if (still.reference === 'plate') return still
      const read = f10 * Math.exp(TONE_LOAD * ln + spread(0.008) + 0.005 * random.normal())
      return withF10(still, read, exponent)
    })
    const truth = ((F / 8) * f10) / FULL_DETAIL_AT
    const [above, over, under] = judgedAt8m(stills, [truth / 1.05, truth / 1.001, truth / 0.999])
    const { value, low, high } = above!
    if (value === null || low === null || high === null) continue
    answered += 1
    if (above!.verdict === 'met') metAbove += 1
    if (under!.verdict === 'met') metUnder += 1
    if (over!.verdict === 'not met') notMetOver += 1
    if (low <= truth && truth <= high) covered += 1
    widths += (high - low) / 2 / value
  }
  const share = (count: number): number => count / answered
  return {
    walks: answered,
    covered: share(covered),
    meanU: share(widths),
    metAbove: share(metAbove),
    metUnder: share(metUnder),
    notMetOver: share(notMetOver),
  }
}

function withF10(still: JudgedStill, f10: number, exponent: ToneExponent | null): JudgedStill {
  const shared: SharedDetail = { toneLoad: TONE_LOAD, shapeRel: 0 }
  const direction = { mtf50: f10 / 2, mtf10: f10, overshoot: 0 }
  const factor = f10 / FULL_DETAIL_AT
  const sharpness = {
    method: 'fit' as const,
    horizontal: direction,
    vertical: direction,
    factor,
    factorU: 0.03 * factor,
    f10OwnU: 0.01 * f10,
    shared,
  }
  const tone = {
    bright: 0.8,
    dim: 0.03,
    michelson: 0.92,
    noise: 1,
    contrastToNoise: 100,
    roseK: {},
    clippedBright: 0,
    clippedDim: 0,
    ...(exponent === null ? {} : { exponent }),
  }
  return { ...still, measurement: { ...still.measurement, sharpness, tone } }
}

function judgedAt8m(stills: readonly JudgedStill[], limits: readonly number[]): readonly PromiseResult[] {
  const grades = limits.map((limit, index) => ({ id: `g${index}`, name: `G${index}`, limit }))
  return judgeWalk({
    stills,
    grading: { id: 'one', name: 'one', source: 'this test', grades },
    judge: 'detail',
    lights: ['day'],
    references: ['plate', 'board'],
    promises: grades.map(({ id }) => ({ grade: id, light: 'day', distanceM: 8, reference: 'plate' })),
    observations: [],
    distanceToleranceM: 0.05,
    lensKnown: false,
    promisedLens: null,
  }).promises
}
