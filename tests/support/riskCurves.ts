import type { JudgedStill, PromiseResult, Verdict } from '../../src/grade/judgement.js'
import { judgePromise } from '../../src/grade/promises/promises.js'
import { seriesInOrder } from '../../src/grade/court/seriesInOrder.js'
import type { AlikeLights } from '../../src/grade/scene/sceneEvidence.js'
import type { Series } from '../../src/grade/range/series.js'
import { normalQuantile } from '../../src/math/quantiles.js'
import { seededRandom } from '../../src/math/random.js'
import { figuresFor } from '../../src/units/figures.js'
import { CLASSES, F, riskWalk, type WalkClass } from './riskWalk.js'

/** Promised distances, metres: at marks and between them. */
export const PROMISED_M = [3, 5.2, 8, 11.5, 13]

export const TRUTH_OVER_LIMIT = [0.9, 0.95, 0.98, 0.996, 0.999, 1.001, 1.004, 1.02, 1.05, 1.1]

/** What became of the promises of one class' walks with one number of marks. */
export interface RiskCurve {
  readonly walks: number
  /** Per promised distance, how often the interval holds the true density at the stated distance. */
  readonly covered: readonly number[]
  /** Mean half width, relative. */
  readonly meanU: number
  /** Per truth over limit, the verdicts of the promises of all walks and distances. */
  readonly verdicts: readonly Readonly<Record<Verdict, number>>[]
  /** Walks of which a good mark was left out. */
  readonly lost: number
}

/** The series of a walk's stills, and what becomes of a light's promise by pixels of which the truth is known: F / D, so many times its limit. */
export function judgedRisk(
  stills: readonly JudgedStill[],
  references: readonly string[],
  light = 'day',
  alike: readonly AlikeLights[] = [],
): { series: readonly Series[]; promised: (distanceM: number, truthOverLimit: number) => PromiseResult } {
  const { series } = seriesInOrder({
    stills,
    lights: [...new Set(stills.map((still) => still.light))],
    references,
    distanceToleranceM: 0.05,
    lensKnown: false,
    scene: { unzoomed: new Set(), even: new Set(), alike },
  })
  const promised = (distanceM: number, truthOverLimit: number): PromiseResult => {
    const grade = { id: 'g', name: 'G', limit: F / distanceM / truthOverLimit }
    return judgePromise(
      { grade: 'g', distanceM, light },
      series.map((each) => ({ series: each, ranges: [] })),
      { id: 'one', name: 'one', source: 'this test', grades: [grade] },
      'pixels',
      figuresFor('metric'),
    )
  }
  return { series, promised }
}

/** Simulates walks of one class and judges promises of which the truth is known: F / D, by pixels. */
export function riskCurve(
  walkClass: WalkClass,
  marksM: readonly number[],
  walks: number,
  seed: number,
): RiskCurve {
  const random = seededRandom(seed)
  const references = CLASSES[walkClass].map(([{ name }]) => name)
  const covered = PROMISED_M.map(() => 0)
  const verdicts = TRUTH_OVER_LIMIT.map(() => ({ met: 0, 'not met': 0, 'not shown': 0 }))
  let [widths, lost] = [0, 0]
  for (let walk = 0; walk < walks; walk++) {
    const { series, promised } = judgedRisk(riskWalk(walkClass, marksM, random), references)
    if (series.some(({ fit }) => fit!.suspect !== null)) lost += 1
    PROMISED_M.forEach((distanceM, at) => {
      const truth = F / distanceM
      TRUTH_OVER_LIMIT.forEach((ratio, which) => {
        const result = promised(distanceM, ratio)
        verdicts[which]![result.verdict] += 1
        if (which > 0 || result.low === null || result.high === null) return
        if (result.low <= truth && truth <= result.high) covered[at]! += 1
        widths += (result.high - result.low) / 2 / result.value!
      })
    })
  }
  return { walks, covered, meanU: widths / walks / PROMISED_M.length, verdicts, lost }
}

/** The score interval of Wilson (J. Am. Stat. Assoc. 22 (1927) 209) for a share of `count` in `n`, at a confidence. */
export function wilson(count: number, n: number, confidence = 0.99): readonly [low: number, high: number] {
  const z = normalQuantile((1 + confidence) / 2)
  const share = count / n
  const middle = (share + z ** 2 / (2 * n)) / (1 + z ** 2 / n)
  const half = (z / (1 + z ** 2 / n)) * Math.sqrt((share * (1 - share)) / n + (z / (2 * n)) ** 2)
  return [middle - half, middle + half]
}
