import type { Estimate, MaybeBound } from '../math/interval.js'
import { FOOT_M, formatLength, INCH_M, type UnitSystem } from './formatLength.js'
import { printedEstimate, printedUncertainty, printedValue, type PrintedEstimate } from './printedEstimate.js'

/**
 * How one walk's figures are printed, in tables, sheet, page and sentences alike: the same figure is the same text wherever it stands. Takes metres and
 * px/m, prints its unit system.
 */
export interface Figures {
  readonly units: UnitSystem
  readonly isMetric: boolean
  readonly lengthUnit: 'm' | 'ft'
  readonly densityUnit: 'px/m' | 'px/ft'
  /** A density with its interval, no unit: digits by its uncertainty, never rounded across a grade's limit. */
  density(density: MaybeBound): PrintedEstimate
  /** "141.2 to 149.0", "up to 149.0" of an upper bound; no unit. */
  interval(density: MaybeBound): string
  /** A density that has no interval, no unit: whole from 100 on, one decimal below. */
  plainDensity(densityPxPerM: number): string
  /** A density that is needed, no unit, rounded so that it is enough: up, or "under" it where more would be too much. */
  needed(densityPxPerM: number, isMost: boolean): string
  /** An expanded uncertainty of a density, no unit. */
  uncertainty(UPxPerM: number): string
  /** A limit in the walk's own unit, no unit: "125", "38.1"; whole, as what reaches it may be close to it. */
  ownLimit(limitPxPerM: number): string
  /** A limit as its source gives it, with the walk's unit beside it: "125 px/m", "125 px/m (38.1 px/ft)". */
  limit(limitPxPerM: number): string
  /** The same for a column or a sentence that says px/m already: "125", "125 (38.1 px/ft)". */
  bareLimit(limitPxPerM: number): string
  /** A taped distance with its unit: "12.5 m", "52.49 ft". */
  distance(distanceM: number): string
  /** The same without its unit. */
  bareDistance(distanceM: number): string
  /** "4, 6 and 9 m". */
  distances(distancesM: readonly number[]): string
  /** A distance with its interval, no unit: how far a grade holds; never rounded across a promised distance. */
  reach(distance: Estimate): PrintedEstimate
  /** A length of a thing: "485 mm", "24 in". */
  size(lengthM: number): string
  /** A length read off a ruler to a tenth of a millimetre: "487.2 mm", "19.18 in (487.2 mm)". */
  ruled(lengthM: number): string
  readonly strokeUnit: 'mm' | 'in'
  /** The finest stroke told apart where detail goes to so many cycles per metre: half a cycle, no unit; "over 9.3" where that is an upper bound. */
  stroke(resolvedPerM: MaybeBound): string
  /** A density as a number of its unit, for a plot's axis. */
  inDensityUnit(densityPxPerM: number): number
  /** The same of a length. */
  inLengthUnit(lengthM: number): number
}

/** What of a walk's results its printer needs. */
interface PrintedWalk {
  readonly walk: { readonly units: UnitSystem }
  readonly grading: { readonly grades: readonly { readonly limit: number }[] }
  readonly promises: readonly { readonly distance: number }[]
}

/** The printer of a walk that was judged. */
export function figuresOf({ walk, grading, promises }: PrintedWalk): Figures {
  return figuresFor(
    walk.units,
    grading.grades.map(({ limit }) => limit),
    promises.map(({ distance }) => distance),
  )
}

/**
 * The printer of a walk: its units, and what its figures are held against and may not be rounded across: the limits of its grading, px/m, and the
 * distances promised, m.
 * @throws `ProofwalkError` `bad-argument`, by its `size`, where a length is not finite
 */
export function figuresFor(
  units: UnitSystem,
  limitsPxPerM: readonly number[] = [],
  promisedM: readonly number[] = [],
): Figures {
  const isMetric = units === 'metric'
  const perM = isMetric ? 1 : FOOT_M
  const scaled = ({ value, low, high }: Estimate, by: number): Estimate => ({
    value: value * by,
    low: low * by,
    high: high * by,
  })
  /** A limit in the unit of the print, without the last bits' noise, which would keep a figure on it from being printed as short as it is. */
  const exact = (limit: number): number => Number(limit.toPrecision(12))
  const limits = limitsPxPerM.map((limit) => exact(limit * perM))
  const promised = promisedM.map((distanceM) => exact(distanceM / perM))
  const lengthUnit = isMetric ? 'm' : 'ft'
  const density = (measured: MaybeBound): PrintedEstimate => {
    const low = measured.low ?? Math.max(0, 2 * measured.value - measured.high)
    return printedEstimate(scaled({ ...measured, low }, perM), limits)
  }
  const ownLimit = (limitPxPerM: number): string => trimmed(exact(limitPxPerM * perM), isMetric ? 3 : 7)
  const besideIt = (limitPxPerM: number): string => (isMetric ? '' : ` (${ownLimit(limitPxPerM)} px/ft)`)
  const bareDistance = (distanceM: number): string => trimmed(distanceM / perM, 2)
  return {
    units,
    isMetric,
    lengthUnit,
    densityUnit: isMetric ? 'px/m' : 'px/ft',
    density,
    interval: (measured) => {
      const { low, high } = density(measured)
      return measured.low === null ? `up to ${high}` : `${low} to ${high}`
    },
    plainDensity: (densityPxPerM) =>
      printedValue(densityPxPerM * perM, densityPxPerM * perM >= 100 ? 0 : 1, limits),
    needed: (densityPxPerM, isMost) => {
      const own = densityPxPerM * perM
      const [steps, decimals] = own >= 100 ? [1, 0] : [10, 1]
      return isMost
        ? `under ${(Math.floor(own * steps) / steps).toFixed(decimals)}`
        : (Math.ceil(own * steps) / steps).toFixed(decimals)
    },
    uncertainty: (UPxPerM) => printedUncertainty(UPxPerM * perM),
    ownLimit,
    limit: (limitPxPerM) => `${trimmed(limitPxPerM, 3)} px/m${besideIt(limitPxPerM)}`,
    bareLimit: (limitPxPerM) => `${trimmed(limitPxPerM, 3)}${besideIt(limitPxPerM)}`,
    distance: (distanceM) => `${bareDistance(distanceM)} ${lengthUnit}`,
    bareDistance,
    distances: (distancesM) => `${listed(distancesM.map(bareDistance))} ${lengthUnit}`,
    reach: (distance) => printedEstimate(scaled(distance, 1 / perM), promised),
    strokeUnit: isMetric ? 'mm' : 'in',
    stroke: ({ value, low }) => {
      const strokeM = 1 / (2 * value)
      const text = isMetric ? (1000 * strokeM).toFixed(1) : (strokeM / INCH_M).toFixed(2)
      return low === null ? `over ${text}` : text
    },
    size: (lengthM) => formatLength(lengthM, units),
    ruled: (lengthM) => {
      const inMm = `${(lengthM * 1000).toFixed(1)} mm`
      return isMetric ? inMm : `${(lengthM / INCH_M).toFixed(2)} in (${inMm})`
    },
    inDensityUnit: (densityPxPerM) => densityPxPerM * perM,
    inLengthUnit: (lengthM) => lengthM / perM,
  }
}

/** A text that says its figures in metres, with feet or inches set beside each: "250 px/m (76.2 px/ft)", "10 mm (0.39 in)". */
export function besideMetric(text: string): string {
  return text.replace(/([\d.]*\d) (px\/m|mm|m)\b(?! \()/g, (said, digits: string, unit: string) => {
    const value = Number(digits)
    if (unit === 'px/m') return `${said} (${trimmed(value * FOOT_M, 2)} px/ft)`
    return unit === 'mm'
      ? `${said} (${trimmed(value / 1000 / INCH_M, 2)} in)`
      : `${said} (${trimmed(value / FOOT_M, 2)} ft)`
  })
}

/** "4, 6 and 9". */
export function listed(words: readonly string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)!}`
}

/** A number with at most so many decimals and no trailing zeros. */
export function trimmed(value: number, decimals: number): string {
  const text = value.toFixed(decimals)
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text
}
