import { FOOT_M, type UnitSystem } from '../units/formatLength.js'
import { ONE_MARK_M } from './marks/markMeasurement.js'

/** What a mark is taped for. */
export type TapePurpose = 'planned' | 'promise' | 'before' | 'beyond' | 'fit'

/** A mark worth taping, metres as taped. */
export interface TapeMark {
  readonly distanceM: number
  readonly purpose: TapePurpose
}

/** What the choice of marks starts from; distances in metres as taped. */
export interface TapeWish {
  /** Marks that are planned already: all are kept. */
  readonly plannedM: readonly number[]
  /** Distances at which something is promised: each gets its own mark. */
  readonly promisedM: readonly number[]
  /** Where grades are expected to end; used where nothing is promised. */
  readonly expectedEndsM: readonly number[]
  /** Nearest distance at which what is carried can be in view; 0 where that is not known. */
  readonly nearestM: number
  readonly units: UnitSystem
}

// All this project's convention: a neighbour within this share of a distance brackets it, no nearer than its tape could blur.
const BRACKET = { nearest: 1.08, farthest: 1.6, step: 1.25 } as const
/** Six marks name one wrong tape among them in 99 of 100 walks (this project's measurement, simulated walks); three are the least for a range. */
const ENOUGH_MARKS = 6
/** The near mark tells where the tape begins against the lens: a quarter of the farthest distance is near enough. */
const NEAR_SHARE = 1 / 4
/** Nobody tapes a walk nearer than this by choice, metres. */
const NEAREST_BY_CHOICE_M = 2
/** With nothing promised, ends of grades farther out than this are not walked to, metres. */
const FARTHEST_BY_CHOICE_M = 30
/** Where nothing at all is known: from near to far in even ratios, metres. */
const LADDER_M: Readonly<Record<UnitSystem, readonly number[]>> = {
  metric: [3, 4.5, 7, 10, 15, 22],
  imperial: [10, 15, 22, 33, 50, 75].map((feet) => feet * FOOT_M),
}

/**
 * The marks worth taping, ascending: those planned, one at each promise, one nearer and one farther on either side of it (beyond the farthest
 * mark nothing is shown to hold), and enough from near to far that the range fit is pinned and a wrong tape is named. Added marks are round figures.
 */
export function marksToTape(wish: TapeWish): TapeMark[] {
  const marks: TapeMark[] = []
  const add = (distanceM: number, purpose: TapePurpose): void => {
    if (distanceM > 0 && !marks.some((mark) => Math.abs(mark.distanceM - distanceM) <= ONE_MARK_M)) {
      marks.push({ distanceM, purpose })
      marks.sort((a, b) => a.distanceM - b.distanceM)
    }
  }
  for (const distanceM of wish.promisedM) add(distanceM, 'promise')
  for (const distanceM of wish.plannedM) add(distanceM, 'planned')
  const ends = wish.expectedEndsM.filter(
    (endM) => endM >= NEAREST_BY_CHOICE_M && endM <= FARTHEST_BY_CHOICE_M,
  )
  const targets = wish.promisedM.length > 0 ? wish.promisedM : wish.plannedM.length > 0 ? [] : ends
  for (const targetM of [...targets].sort((a, b) => a - b)) bracket(targetM)
  if (marks.length === 0) for (const distanceM of LADDER_M[wish.units]) add(distanceM, 'fit')
  pinFit()
  return marks

  function bracket(targetM: number): void {
    const ratios = marks.map(({ distanceM }) => distanceM / targetM)
    const nearer = ratios.some((ratio) => ratio <= 1 / BRACKET.nearest && ratio >= 1 / BRACKET.farthest)
    const farther = ratios.some((ratio) => ratio >= BRACKET.nearest && ratio <= BRACKET.farthest)
    const nearM = roundFigure(targetM / BRACKET.step, wish.units, Math.floor)
    if (!nearer && nearM >= nearestM()) add(nearM, 'before')
    if (!farther) add(roundFigure(targetM * BRACKET.step, wish.units, Math.ceil), 'beyond')
  }

  function nearestM(): number {
    return Math.max(wish.nearestM, NEAREST_BY_CHOICE_M)
  }

  function pinFit(): void {
    const farthestM = marks.at(-1)!.distanceM
    const nearM = roundFigure(Math.max(farthestM * NEAR_SHARE, nearestM()), wish.units, Math.ceil)
    if (marks[0]!.distanceM > farthestM * NEAR_SHARE * BRACKET.farthest && nearM < marks[0]!.distanceM) {
      add(nearM, 'fit')
    }
    while (marks.length < ENOUGH_MARKS) {
      const before = marks.length
      const gap = widestGap(marks)
      const betweenM = roundFigure(Math.sqrt(gap.fromM * gap.toM), wish.units, Math.round)
      // Where the marks stand close already, more between them pin nothing: the walk goes farther out instead.
      if (gap.toM / gap.fromM >= BRACKET.farthest - 1e-9) add(betweenM, 'fit')
      if (marks.length === before)
        add(roundFigure(marks.at(-1)!.distanceM * BRACKET.farthest, wish.units, Math.round), 'fit')
      if (marks.length === before) return
    }
  }
}

/** The two neighbours farthest apart in ratio; of a single mark that mark twice. */
function widestGap(marks: readonly TapeMark[]): { fromM: number; toM: number } {
  const distances = marks.map(({ distanceM }) => distanceM)
  const gaps = distances.slice(1).map((toM, index) => ({ fromM: distances[index]!, toM }))
  gaps.sort((a, b) => b.toM / b.fromM - a.toM / a.fromM)
  return gaps[0] ?? { fromM: distances[0]!, toM: distances[0]! }
}

/** A figure that is easily found on a tape: half metres up to 10 m, then metres, from 40 m fives; feet, from 60 ft fives. */
function roundFigure(distanceM: number, units: UnitSystem, round: (value: number) => number): number {
  const unitM = units === 'imperial' ? FOOT_M : 1
  const value = distanceM / unitM
  const [fine, coarse] = units === 'imperial' ? [0, 60] : [10, 40]
  const step = value < fine ? 0.5 : value < coarse ? 1 : 5
  return Number((round(Number((value / step).toFixed(6))) * step * unitM).toFixed(6))
}
