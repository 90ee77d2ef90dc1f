import {
  PIECES,
  pieceSums,
  solveStrip,
  stripResiduals,
  type StripFrame,
  type StripPlace,
  type StripSolution,
} from './stripFit.js'
import type { StripPixels } from './stripPixels.js'

/** Pieces of a strip, from whose scatter its uncertainties come. */
export const PIECE_COUNT = PIECES.along * PIECES.across

/** A strip as read: its regression over all pieces and over all but each one, and what it leaves of every pixel, of which piece. */
export interface StripReading {
  readonly whole: StripSolution
  readonly without: readonly StripSolution[]
  readonly left: Float64Array
  readonly piece: Uint8Array
}

const STEPS = 8
/** A place is looked for on the strip's lower frequencies first. */
const COARSE_STEPS = 4
const COARSE_BANDS = 3
const NOWHERE: StripPlace = { shift: 0, stretch: 0, lean: 0, bend: 0 }

/** A strip's place from where the sheet was found, by least residual (Gauss and Newton); null where the strip does not determine it. */
export function placeStrip(pixels: StripPixels, frame: StripFrame): StripPlace | null {
  let place = NOWHERE
  let solution = solveStrip(pieceSums(pixels, frame, place, null), null)
  for (let step = 0; step < STEPS && solution !== null; step += 1) {
    const swings = solution.swings.map((swing, band) =>
      step < COARSE_STEPS && band >= COARSE_BANDS ? 0 : swing,
    )
    const free = step < 2 ? (['shift', 'stretch'] as const) : (['shift', 'stretch', 'lean', 'bend'] as const)
    solution = solveStrip(pieceSums(pixels, frame, place, swings), null, free)
    if (solution === null) return null
    const { shift, stretch, lean, bend } = solution.step
    place = {
      shift: place.shift + shift,
      stretch: place.stretch + stretch,
      lean: place.lean + lean,
      bend: place.bend + bend,
    }
  }
  return solution === null ? null : place
}

/** Reads a strip at its place; null where it does not determine its bands. */
export function readStrip(pixels: StripPixels, frame: StripFrame, place: StripPlace): StripReading | null {
  const sums = pieceSums(pixels, frame, place, null)
  const whole = solveStrip(sums, null)
  const without = sums.flatMap((_, piece) => solveStrip(sums, piece) ?? [])
  if (whole === null || without.length < PIECE_COUNT) return null
  return { whole, without, ...stripResiduals(pixels, frame, place, whole) }
}
