import type { Interval } from '../math/interval.js'
import { FOOT_M, formatLength, type UnitSystem } from '../units/formatLength.js'
import { limitText, measuresFor } from '../units/measures.js'

/** How a walk's sentences write lengths and densities. */
export interface Wording {
  /** "16 m" or "52.5 ft". */
  length(lengthM: number): string
  /** "4, 6 and 9 m": several in one unit, each with its own where they differ. */
  lengths(lengthsM: readonly number[]): string
  /** A grade's limit: "125", or "125 px/m (38.1 px/ft)" where feet are written. */
  limit(limitPxPerM: number): string
  /** "141.2 to 149 px/m". */
  interval(density: Interval): string
}

/** The wording in one system of units. */
export function wording(units: UnitSystem): Wording {
  const perMetre = units === 'imperial' ? FOOT_M : 1
  const unit = units === 'imperial' ? 'px/ft' : 'px/m'
  const number = (densityPxPerM: number): string => String(Number((densityPxPerM * perMetre).toFixed(1)))
  return {
    length: (lengthM) => formatLength(lengthM, units),
    lengths: (lengthsM) => inOneUnit(lengthsM.map((lengthM) => formatLength(lengthM, units))),
    limit: (limitPxPerM) =>
      units === 'imperial' ? limitText(measuresFor(units), limitPxPerM) : number(limitPxPerM),
    interval: ({ low, high }) => `${number(low)} to ${number(high)} ${unit}`,
  }
}

function inOneUnit(lengths: readonly string[]): string {
  const shared = new Set(lengths.map((length) => length.split(' ')[1])).size === 1
  const parts = lengths.map((length, index) =>
    shared && index < lengths.length - 1 ? length.split(' ')[0]! : length,
  )
  return parts.length < 2 ? parts.join('') : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)!}`
}
