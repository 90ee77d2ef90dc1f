import type { Raster } from '../still/raster.js'

/** A strong edge says nothing of a rhythm; capped, it does not outweigh the noise beside it. Code values squared. */
const MOST_SQUARE = 400
const ENOUGH_LINES = 200

/**
 * Mean squares of the differences along rows (`across`) or columns, code values squared, one for each place: first differences (between neighbours) or second
 * (a pixel against its two neighbours). Interpolation leaves its rhythm in the one or the other, according to where it lays its pixels.
 */
export function differenceProfile(raster: Raster, across: boolean, order: 1 | 2): Float64Array {
  const { width, height, data } = raster
  const places = Math.max(0, (across ? width : height) - order)
  const profile = new Float64Array(places)
  const step = across ? 1 : width
  const [columns, rows] = across ? [places, height] : [width, places]
  // Lines of a large raster are passed over: a few hundred show a rhythm.
  const every = Math.max(1, Math.floor((across ? height : width) / ENOUGH_LINES))
  const [everyRow, everyColumn] = across ? [every, 1] : [1, every]
  for (let j = 0; j < rows; j += everyRow) {
    for (let i = 0; i < columns; i += everyColumn) {
      const at = j * width + i
      const first = data[at + step]! - data[at]!
      const difference = order === 1 ? first : data[at + 2 * step]! - data[at + step]! - first
      profile[across ? i : j]! += Math.min(MOST_SQUARE, difference * difference)
    }
  }
  const lines = Math.max(1, Math.ceil((across ? rows : columns) / every))
  return profile.map((sum) => sum / lines)
}

/** A rhythm's weakest and strongest phase: the medians of their mean squares, code values squared. */
export interface Rhythm {
  readonly weakest: number
  readonly strongest: number
  /** Whether weak and strong places stay apart over 24 px, so that a rhythm of JPEG blocks (8 px) is not taken for it. */
  readonly steady: boolean
}

const median = (values: readonly number[]): number =>
  [...values].sort((a, b) => a - b)[values.length >> 1] ?? 0

function everyFrom(profile: Float64Array, from: number, step: number): number[] {
  const taken: number[] = []
  for (let i = from; i < profile.length; i += step) taken.push(profile[i]!)
  return taken
}

/** The phases of a profile at a period of 2, 3 or 4 places; null where it is shorter than 48. */
export function rhythmOf(profile: Float64Array, period: 2 | 3 | 4): Rhythm | null {
  if (profile.length < 48) return null
  const phases = Array.from({ length: period }, (_, phase) => median(everyFrom(profile, phase, period)))
  const [weakest, strongest] = [Math.min(...phases), Math.max(...phases)]
  const weak = phases.map((phase) => phase < (weakest + strongest) / 2)
  const places = Array.from({ length: 24 }, (_, place) => median(everyFrom(profile, place, 24)))
  const weakPlaces = places.filter((_, place) => weak[place % period])
  const strongPlaces = places.filter((_, place) => !weak[place % period])
  return { weakest, strongest, steady: Math.max(...weakPlaces) < Math.min(...strongPlaces) }
}
