// Whether intervals still hold where a light lends its constant to another: corner-only walks of two lights, infrared of few marks, the scene of both of one size as far as it was
// told; the tape begun up to 0.2 m off, once for both lights or for each. Arguments: walks of each [200], one class.
import { seededRandom } from '../src/math/random.js'
import { PROMISED_M, judgedRisk } from '../tests/support/riskCurves.js'
import { CLASSES, F, riskWalk, type WalkClass, type WrongWalk } from '../tests/support/riskWalk.js'

const [walks = '200', onlyClass] = process.argv.slice(2)
const WALKED_M = [3, 4.5, 6, 8, 10, 13]
const FEW_M: readonly (readonly number[])[] = [
  [3, 4.5, 6],
  [3, 6, 13],
]
/** What a scene from light to light is told to, 95 %, and lights that truly are of one size. */
const SCALE_U = 8e-4
/** Truth over limit of promises that are just not kept. */
const SHORT = 0.99
const percent = (share: number): string => `${(100 * share).toFixed(1)} %`

console.log(
  'begun              class           marks of infrared      lent     covered plain, lent    U plain, lent   wrongly met plain, lent',
)
for (const begun of ['once', 'for each light', '0.3 m on in one'] as const)
  for (const walkClass of ['clicked', 'snapped', 'found', 'plate'] as const satisfies WalkClass[])
    for (const few of FEW_M)
      if (onlyClass === undefined || onlyClass === walkClass) bench(begun, walkClass, few)

function bench(begun: string, walkClass: WalkClass, few: readonly number[]): void {
  const random = seededRandom(few.length + 10 * Math.max(...few))
  const spread = (half: number): number => half * (2 * random.uniform() - 1)
  const references = CLASSES[walkClass].map(([{ name }]) => name)
  const count = { lent: 0, asked: 0, plain: 0, withLent: 0, plainU: 0, lentU: 0, plainMet: 0, lentMet: 0 }
  for (let walk = 0; walk < Number(walks); walk++) {
    const day = spread(0.2)
    const infrared = begun === 'once' ? day : begun === 'for each light' ? spread(0.2) : day + 0.3
    const lights: WrongWalk = {
      lights: ['day', 'infrared'],
      fault: (light) => ({ fartherM: light === 'day' ? day : infrared }),
    }
    const stills = riskWalk(walkClass, WALKED_M, random, lights).filter(
      ({ light, distanceM }) => light === 'day' || few.includes(distanceM),
    )
    const told = { light: 'infrared', against: 'day', logScale: (SCALE_U / 2) * random.normal(), U: SCALE_U }
    const plain = judgedRisk(stills, references, 'infrared')
    const withLent = judgedRisk(stills, references, 'infrared', [told])
    const isLent = withLent.series.some(({ light, fit }) => light === 'infrared' && fit?.lent !== null)
    if (isLent) count.lent++
    for (const distanceM of PROMISED_M.filter((each) => each <= Math.max(...few))) {
      const truth = F / distanceM
      const [one, other] = [plain.promised(distanceM, 0.9), withLent.promised(distanceM, 0.9)]
      if (one.low === null || one.high === null || other.low === null || other.high === null) continue
      if (!isLent) continue
      count.asked++
      if (one.low <= truth && truth <= one.high) count.plain++
      if (other.low <= truth && truth <= other.high) count.withLent++
      if (plain.promised(distanceM, SHORT).verdict === 'met') count.plainMet++
      if (withLent.promised(distanceM, SHORT).verdict === 'met') count.lentMet++
      count.plainU += (one.high - one.low) / 2 / one.value!
      count.lentU += (other.high - other.low) / 2 / other.value!
    }
  }
  const { lent, asked } = count
  const shares = [count.plain, count.withLent, count.plainU, count.lentU, count.plainMet, count.lentMet].map(
    (sum) => percent(sum / asked),
  )
  console.log(
    `${begun.padEnd(17)}  ${walkClass.padEnd(14)}  ${few.join(', ').padEnd(21)}  ${percent(lent / Number(walks)).padEnd(7)}  ${asked === 0 ? '-' : `${shares.slice(0, 2).join(', ').padEnd(21)}  ${shares.slice(2, 4).join(', ').padEnd(14)}  ${shares.slice(4).join(', ')}`}`,
  )
}
