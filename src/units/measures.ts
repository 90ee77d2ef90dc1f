import { FOOT_M, type UnitSystem } from './formatLength.js'

/** The units tables and sheets print in, and how their numbers are written. Takes metres and px/m, whatever it prints. */
export interface Measures {
  readonly lengthUnit: 'm' | 'ft'
  readonly densityUnit: 'px/m' | 'px/ft'
  readonly isMetric: boolean
}

/** Metric, or feet (1 ft = 0.3048 m exactly). */
export function measuresFor(units: UnitSystem): Measures {
  return units === 'imperial'
    ? { lengthUnit: 'ft', densityUnit: 'px/ft', isMetric: false }
    : { lengthUnit: 'm', densityUnit: 'px/m', isMetric: true }
}

/** A length in the unit printed in. */
export function lengthIn(measures: Measures, lengthM: number): number {
  return measures.isMetric ? lengthM : lengthM / FOOT_M
}

/** A density in the unit printed in. */
export function densityIn(measures: Measures, densityPxPerM: number): number {
  return measures.isMetric ? densityPxPerM : densityPxPerM * FOOT_M
}

/** A taped distance without its unit: up to two decimals, none that say nothing. */
export function distanceFigure(measures: Measures, distanceM: number): string {
  return trimmed(lengthIn(measures, distanceM), 2)
}

/** A taped distance with its unit: "12.5 m". */
export function distanceText(measures: Measures, distanceM: number): string {
  return `${distanceFigure(measures, distanceM)} ${measures.lengthUnit}`
}

/** A density without its unit, one decimal. */
export function densityFigure(measures: Measures, densityPxPerM: number): string {
  return densityIn(measures, densityPxPerM).toFixed(1)
}

/** A limit as its source gives it, px/m in every system of units, up to three decimals: "62.5", "125". */
export function limitFigure(limitPxPerM: number): string {
  return trimmed(limitPxPerM, 3)
}

/** A limit with its unit, as its source gives it, and in feet beside it where feet are printed: "125 px/m (38.1 px/ft)". */
export function limitText(measures: Measures, limitPxPerM: number): string {
  const given = `${limitFigure(limitPxPerM)} px/m`
  return measures.isMetric ? given : `${given} (${trimmed(densityIn(measures, limitPxPerM), 2)} px/ft)`
}

/**
 * A density beside the limit it was held against, without its unit: one decimal, and more where rounding would put a value
 * that misses the limit on it, or one that reaches it below.
 */
export function densityAgainst(measures: Measures, densityPxPerM: number, limitPxPerM: number): string {
  const value = densityIn(measures, densityPxPerM)
  const limit = densityIn(measures, limitPxPerM)
  for (let decimals = 1; decimals < 6; decimals++) {
    const printed = Number(value.toFixed(decimals))
    if (printed >= limit === value >= limit) return value.toFixed(decimals)
  }
  return value.toFixed(6)
}

/** A number with at most so many decimals and no trailing zeros. */
export function trimmed(value: number, decimals: number): string {
  const text = value.toFixed(decimals)
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text
}
