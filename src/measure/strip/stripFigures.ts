import { coverageFactor } from '../../math/quantiles.js'
import { STRIP_COVERAGE } from '../../chart/printed/stripSheet.js'
import type { StripFigure } from '../stillMeasurement.js'
import { responseAt } from './stripK.js'
import { PIECE_COUNT, type StripReading } from './readStrip.js'

/** Light that ink throws back over paper's: this project's convention. */
export const INK = 0.06
/** Expanded over standard uncertainty of a figure of the pieces. */
export const PIECES_COVERAGE = coverageFactor(PIECE_COUNT - 1)
/** A response is believed up to so much. */
const MOST_RESPONSE = 1.2
const NYQUIST = 0.5
const STEPS = 100

/** A figure of all pieces (null) with its expanded uncertainty (95 %) from what leaving out each one does to it: the jackknife (J. W. Tukey, Ann. Math. Statist. 29 (1958) 614). */
export function figureOf(of: (left: number | null) => number): StripFigure {
  const others = Array.from({ length: PIECE_COUNT }, (_, piece) => of(piece))
  const mean = others.reduce((sum, value) => sum + value, 0) / PIECE_COUNT
  const squares = others.reduce((sum, value) => sum + (value - mean) ** 2, 0)
  return { value: of(null), U: PIECES_COVERAGE * Math.sqrt(((PIECE_COUNT - 1) / PIECE_COUNT) * squares) }
}

/** Response at the bands' nodes of a strip whose bars are inked by `coverage`, without a piece or of all (null). */
export function responseOf(reading: StripReading, coverage: number, left: number | null): number[] {
  const { swings, level } = left === null ? reading.whole : reading.without[left]!
  return swings.map((swing) => swing / (level * coverage * (1 - INK)))
}

/** The contrast of the faint bars as a share of paper's light, printed as meant. */
export const FAINT_SWING = STRIP_COVERAGE.faint * (1 - INK)

/** Area under a response up to Nyquist, cycles per px. */
export function areaUnder(response: readonly number[]): number {
  let sum = 0
  for (let n = 0; n < STEPS; n += 1) {
    const value = responseAt(response, ((n + 0.5) / STEPS) * NYQUIST)
    sum += Math.min(MOST_RESPONSE, Math.max(0, value))
  }
  return (sum / STEPS) * NYQUIST
}
