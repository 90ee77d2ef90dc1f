import { ONE_MARK_M } from '../../grade/marks/markMeasurement.js'

/** Whether two distances, metres, are one mark; the allowance for rounding is a millionth of a metre. */
export function isSameMark(oneM: number, otherM: number): boolean {
  return Math.abs(oneM - otherM) <= ONE_MARK_M + 1e-6
}

/** Whether a taped distance is more than twice as long as its tape's zero lies off the lens, either way; metres. */
export function farFromStart(tapedM: number, beginsM: number): boolean {
  return tapedM > 2 * Math.abs(beginsM)
}

/** The nearest of the known marks that a distance is one with, else the distance itself; metres. */
export function nearestMark(distanceM: number, knownM: readonly number[]): number {
  const near = knownM.filter((knownMark) => isSameMark(knownMark, distanceM))
  return near.reduce(
    (best, one) => (Math.abs(one - distanceM) < Math.abs(best - distanceM) ? one : best),
    near[0] ?? distanceM,
  )
}
