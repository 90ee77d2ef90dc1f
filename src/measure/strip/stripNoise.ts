import { BANDS } from './stripBands.js'
import type { StripReading } from './readStrip.js'
import type { StripPixels } from './stripPixels.js'

/** Noise that a strip's regression leaves: variance of a pixel, linear light squared, and its autocorrelation along and across the strip, 1 at lag 0. */
export interface StripNoise {
  readonly variance: number
  readonly along: readonly number[]
  readonly across: readonly number[]
}

const LAGS_ALONG = 5
const LAGS_ACROSS = 2
/** What the regression takes of the pixels' freedom: the bands, a level, two slopes. */
const UNKNOWNS = BANDS + 3

/** The noise of a strip, without a piece or of all (null); its autocorrelation is that of all. `isLevel`: the strip lies along the picture's rows. */
export function stripNoise(
  { column, row }: StripPixels,
  { left, piece }: StripReading,
  isLevel: boolean,
): (without: number | null) => StripNoise {
  const squares = left.reduce((sum, value) => sum + value * value, 0) / left.length
  const [right, below] = [1, 65_536]
  const at = new Map(column.map((x, index) => [x * right + row[index]! * below, index]))
  const lagged = (lags: number, step: number): number[] =>
    Array.from({ length: lags + 1 }, (_, lag) => {
      let [sum, count] = [0, 0]
      for (const [place, index] of at) {
        const other = at.get(place + lag * step)
        if (other === undefined) continue
        sum += left[index]! * left[other]!
        count += 1
      }
      // Tapered, and never below 0: a spectrum of few lags would dip under what is there.
      return count === 0 ? 0 : Math.max(0, sum / count / squares) * (1 - lag / (lags + 1))
    })
  const along = lagged(LAGS_ALONG, isLevel ? right : below)
  const across = lagged(LAGS_ACROSS, isLevel ? below : right)
  return (without) => {
    const kept = left.filter((_, index) => piece[index] !== without)
    const sum = kept.reduce((total, value) => total + value * value, 0)
    return { variance: sum / Math.max(1, kept.length - UNKNOWNS), along, across }
  }
}
