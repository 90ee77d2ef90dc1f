import type { Figures } from '../../units/figures.js'
import type { MarkMeasurement } from '../marks/markMeasurement.js'
import type { RangeFit } from './rangeFit.js'

/** One light with one reference: its marks, ascending, and the fit over them where there is one. All judging is per series. */
export interface Series {
  readonly light: string
  readonly reference: string
  readonly marks: readonly MarkMeasurement[]
  readonly fit: RangeFit | null
}

/** The marks of a series that were not left out as suspect. */
export function keptMarks({ marks, fit }: Series): readonly MarkMeasurement[] {
  return marks.filter((mark) => mark !== fit?.suspect?.mark)
}

/**
 * Difference of height between lens and reference, squared, m^2: line of sight squared less the taped distance squared, the mean over the marks;
 * 0 where distances are taped from the camera.
 */
function dropSquaredM2({ marks }: Series): number {
  const drops = marks.map(({ distanceM, lineOfSightM }) => lineOfSightM ** 2 - distanceM ** 2)
  return Math.max(0, drops.reduce((sum, drop) => sum + drop, 0) / drops.length)
}

/** Distance as taped for a line of sight; both metres. */
export function tapedM(series: Series, lineOfSightM: number): number {
  return Math.sqrt(Math.max(0, lineOfSightM ** 2 - dropSquaredM2(series)))
}

/** Line of sight for a distance as taped; both metres. */
export function sightM(series: Series, distanceM: number): number {
  return Math.sqrt(distanceM ** 2 + dropSquaredM2(series))
}

/** The distance that a series' left-out mark fits by the others, as taped, in as many digits as its interval allows; "13.79 m". */
export function suspectFits(series: Series, figures: Figures): string {
  const { value, low, high } = series.fit!.suspect!.fitsM
  const [at, least, most] = [value, low, high].map((each) => tapedM(series, each))
  return `${figures.reach({ value: at!, low: least!, high: most! }).value} ${figures.lengthUnit}`
}
