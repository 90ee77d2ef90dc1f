import jstat from 'jstat'
import { type CauseKind, causesOf } from '../../src/grade/court/causes.js'
import { courtMarks } from '../../src/grade/court/courtMarks.js'
import { courtModel, nothingFreed } from '../../src/grade/court/courtModel.js'
import { type Finding, hearCourt, standingOut } from '../../src/grade/court/hearCourt.js'
import { tryCause } from '../../src/grade/court/tryCause.js'
import type { JudgedStill } from '../../src/grade/judgement.js'
import { combineRepeats } from '../../src/grade/marks/combineRepeats.js'
import { fittedMarks } from '../../src/grade/range/fitRange.js'
import type { FittedMark } from '../../src/grade/range/rangeFit.js'
import { groupBy } from '../../src/math/groupBy.js'
import { normalQuantile } from '../../src/math/quantiles.js'
import { seededRandom } from '../../src/math/random.js'
import { riskWalk, type StillFault, type WalkClass } from './riskWalk.js'

type Faults = (place: { light: string; reference: string; index: number; marks: number }) => StillFault

/** A walk with something wrong, what of it is to be found, and how its corners are got. */
export interface WrongCell {
  readonly name: string
  /** Kinds of which one is to come first; none where the walk is honest. */
  readonly right: readonly CauseKind[]
  readonly lights: readonly string[]
  readonly classes: readonly WalkClass[]
  readonly fault: Faults
}

const ONE = ['day']
const TWO = ['day', 'infrared']
const BOTH: readonly WalkClass[] = ['clicked', 'snapped']
const infrared =
  (fault: StillFault): Faults =>
  ({ light }) =>
    light === 'infrared' ? fault : {}
const everywhere =
  (fault: StillFault): Faults =>
  () =>
    fault
const plate =
  (size: number): Faults =>
  ({ reference }) =>
    reference === 'plate' ? { size } : {}

function cell(
  name: string,
  right: readonly CauseKind[],
  lights: readonly string[],
  classes: readonly WalkClass[],
  fault: Faults,
): WrongCell {
  return { name, right, lights, classes, fault }
}

/** Walks with nothing wrong, with one thing, with two at once, and with what no cause is meant for. */
export const WRONG_CELLS: readonly WrongCell[] = [
  cell('none', [], ONE, ['clicked', 'snapped', 'found', 'plate', 'two references'], everywhere({})),
  cell('none, two lights', [], TWO, ['clicked', 'snapped', 'two references'], everywhere({})),
  cell('start +0.20 m', ['start'], ONE, BOTH, everywhere({ fartherM: 0.2 })),
  cell('start +0.14 m', ['start'], ONE, ['snapped'], everywhere({ fartherM: 0.14 })),
  cell('start -0.30 m', ['start'], ONE, BOTH, everywhere({ fartherM: -0.3 })),
  cell('start +0.50 m', ['start'], ONE, BOTH, everywhere({ fartherM: 0.5 })),
  cell('zoomed 2.2 %', ['zoomed'], TWO, ['clicked'], infrared({ scale: 1.022 })),
  cell('zoomed 1.0 %', ['zoomed'], TWO, ['snapped'], infrared({ scale: 1.01 })),
  cell('zoomed 15 %', ['zoomed'], TWO, BOTH, infrared({ scale: 1.15 })),
  cell('moved 0.11 m', ['moved'], TWO, ['clicked'], infrared({ fartherM: 0.11 })),
  cell('moved 0.07 m', ['moved'], TWO, ['snapped'], infrared({ fartherM: 0.07 })),
  cell('moved 0.40 m', ['moved'], TWO, BOTH, infrared({ fartherM: 0.4 })),
  cell('size 1.8 %', ['size'], ONE, ['two references'], plate(1.018)),
  cell('size 3 %', ['size'], ONE, ['two references'], plate(1.03)),
  cell('aspect 1.7 %', ['aspect'], ONE, ['clicked'], everywhere({ aspect: 1.017 })),
  cell('aspect 1.1 %', ['aspect'], ONE, ['snapped'], everywhere({ aspect: 1.011 })),
  cell('one mark +0.5 m', ['mark'], ONE, BOTH, ({ index, marks }) =>
    index === marks - 2 ? { fartherM: 0.5 } : {},
  ),
  cell('one mark -0.4 m', ['mark'], ONE, BOTH, ({ index }) => (index === 1 ? { fartherM: -0.4 } : {})),
  cell('enlarged 1.25 on', ['scaled'], ONE, BOTH, ({ index }) => (index >= 2 ? { scale: 1.25 } : {})),
  cell('rougher 2x', ['rougher'], ONE, BOTH, everywhere({ rougher: 2 })),
  cell('all turned 25', [], ONE, BOTH, everywhere({ yawDeg: 25 })),
  cell('looked down on', [], ONE, ['clicked', 'snapped', 'plate'], everywhere({ dropM: 1.5 })),
  cell('start and aspect', ['start', 'aspect'], ONE, BOTH, everywhere({ fartherM: 0.5, aspect: 1.03 })),
  cell('start and mark', ['start', 'mark'], ONE, BOTH, ({ index, marks }) => ({
    fartherM: index === marks - 2 ? 1.2 : 0.4,
  })),
  cell('zoomed and moved', ['zoomed', 'moved'], TWO, BOTH, infrared({ scale: 1.15, fartherM: 0.4 })),
  cell('every mark wrong', [], ONE, BOTH, ({ index }) => ({ fartherM: [0.9, -0.8, 1.5, -1.2][index % 4]! })),
]

/** What the court said of the walks of one cell. */
export interface Heard {
  readonly walks: number
  /** How often each kind came first; `-` where it was silent. */
  readonly first: Readonly<Record<string, number>>
  /** Walks in which a right cause came first or was not told apart from what did. */
  readonly named: number
  /** Walks in which causes were not told apart, in which one mark was blamed that was good, and in which a second cause was found. */
  readonly notApart: number
  readonly goodBlamed: number
  readonly again: number
}

/** Hears walks of one cell, one class, one set of marks. */
export function hearCell(
  { lights, right, fault }: WrongCell,
  walkClass: WalkClass,
  marksM: readonly number[],
  walks: number,
  seed: number,
): Heard {
  const random = seededRandom(seed)
  const first: Record<string, number> = {}
  let [named, notApart, goodBlamed, again] = [0, 0, 0, 0]
  const at = (light: string, reference: string, index: number): StillFault =>
    fault({ light, reference, index, marks: marksM.length })
  for (let walk = 0; walk < walks; walk++) {
    const found = hearCourt(fittedStills(riskWalk(walkClass, marksM, random, { lights, fault: at })), false)
    const kind = found[0]?.[0]?.kind ?? '-'
    first[kind] = (first[kind] ?? 0) + 1
    if (found[0]?.some((cause) => right.includes(cause.kind))) named += 1
    if (found.some((causes) => causes.length > 1)) notApart += 1
    if (found.length > 1) again += 1
    // A mark is good whose fault half of the marks share.
    const faults = marksM.map((_, index) => JSON.stringify(at('infrared', 'plate', index)))
    const isGood = ([cause, ...others]: Finding): boolean => {
      if (others.length > 0 || cause?.kind !== 'mark') return false
      const own = faults[marksM.indexOf(cause.mark!.distanceM)]
      return 2 * faults.filter((fault) => fault === own).length >= faults.length
    }
    if (found.some(isGood)) goodBlamed += 1
  }
  return { walks, first, named, notApart, goodBlamed, again }
}

/** How often a right cause could come first at best, by the likelihoods themselves. */
export interface Reachable {
  /** Asked for alone: its likelihood ratio passes what honest walks pass in 3 of 100. */
  readonly alone: number
  /** Asked for among all causes of the walk: it passes the family's threshold, and the rival that comes closest, not likelier beforehand, does not explain more. */
  readonly among: number
}

/**
 * The bound of a cell with one thing wrong, null for others: on the walk without any noise the fall of chi-square by a cause is the square of how far from nothing it lies
 * in standard uncertainties (the non-centrality), by what is stated of hands, tapes and holding. A rival's fall there, over that of the right cause, is the square of
 * their correlation.
 */
export function reachable(
  { lights, right, fault }: WrongCell,
  walkClass: WalkClass,
  marksM: readonly number[],
): Reachable | null {
  if (right.length !== 1 || right[0] === 'rougher') return null
  const still = { uniform: () => 0.5, normal: () => 0 }
  const at = (light: string, reference: string, index: number): StillFault =>
    fault({ light, reference, index, marks: marksM.length })
  const marks = courtMarks(fittedStills(riskWalk(walkClass, marksM, still, { lights, fault: at })), false)
  const freed = nothingFreed(marks)
  const model = courtModel(marks, freed)
  const causes = causesOf(marks)
  const standing = standingOut(causes)
  const fallOf = (kind: CauseKind): number =>
    Math.max(...causes.filter((one) => one.kind === kind).map((one) => tryCause(one, model, freed).drop))
  const fall = fallOf(right[0]!)
  const own = standing.get(right[0]!)!
  const beats = [...standing].flatMap(([kind, { share }]) => {
    if (kind === right[0] || kind === 'rougher') return []
    const correlation = Math.sqrt(Math.min(1, fallOf(kind) / fall))
    return comesFirst(
      Math.sqrt(fall),
      own.leastDrop,
      correlation,
      Math.min(0, 2 * Math.log(share / own.share)),
    )
  })
  return {
    alone: comesFirst(Math.sqrt(fall), normalQuantile(1 - ALONE / 2) ** 2, 0, -Infinity),
    among: Math.min(...beats),
  }
}

/**
 * How often a normal number around `centre` has a square above `leastFall` and, by `headStart`, above the square of a rival correlated with it: the chance over the number of
 * that of the rival, by the midpoint rule.
 */
function comesFirst(centre: number, leastFall: number, correlation: number, headStart: number): number {
  const [steps, reach] = [2000, 8]
  const spread = Math.sqrt(1 - correlation ** 2)
  let sum = 0
  for (let step = 0; step < steps; step++) {
    const off = reach * ((2 * step + 1) / steps - 1)
    const at = centre + off
    if (at ** 2 <= leastFall) continue
    const most = Math.sqrt(Math.max(0, at ** 2 - headStart))
    const loses = [most, -most].map((end) => normalShare((end - correlation * at) / spread))
    sum += Math.exp(-(off ** 2) / 2) * (loses[0]! - loses[1]!)
  }
  return (sum * 2 * reach) / steps / Math.sqrt(2 * Math.PI)
}

/** Honest walks that may be accused. */
const ALONE = 0.03

const normalShare = (z: number): number => jstat.jStat.normal.cdf(z, 0, 1)

function fittedStills(stills: readonly JudgedStill[]): FittedMark[] {
  const series = groupBy(stills, ({ light, reference }) => JSON.stringify([light, reference]))
  return [...series.values()].flatMap((each) =>
    fittedMarks(combineRepeats(each), { distanceToleranceM: 0.05, lensKnown: false }),
  )
}
