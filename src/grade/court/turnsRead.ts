import { median } from '../../math/median.js'
import type { FittedMark } from '../range/rangeFit.js'
import type { Lean, SeenSquare } from './seenSquare.js'

/** What a mark's turn does to its rho: with the others, as a reference that is held alike or looked down on everywhere, and by itself. Relative. */
export interface TurnRead {
  readonly commonRho: number
  readonly ownRel: number
}

/** So many standard uncertainties beyond how a reference is held a turn counts as read. This project's convention. */
const READ_FROM = 3

/**
 * The turns that the corners themselves show, before pixels or hands are blamed. All marks together: a lean that is the same at each, or falls off with distance as
 * under a camera that hangs higher. One by itself: a lean by its perspective, or a rho far off the others'.
 */
export function turnsRead(
  marks: readonly FittedMark[],
  squares: readonly (SeenSquare | null)[],
  heldRad: number,
): TurnRead[] {
  const seen = squares.flatMap((square, i) => (square === null ? [] : [{ square, mark: marks[i]! }]))
  const across = commonLean(
    seen.map(({ square, mark }) => ({ lean: square.across, mark })),
    heldRad,
  )
  const down = commonLean(
    seen.map(({ square, mark }) => ({ lean: square.down, mark })),
    heldRad,
  )
  const middle = seen.length === 0 ? 0 : median(seen.map(({ square }) => square.rho))
  return squares.map((square, i) => {
    if (square === null) return { commonRho: 0, ownRel: 0 }
    const [a, b] = [across(marks[i]!), down(marks[i]!)]
    const own = [square.across, square.down].map(({ sine, u }, axis) =>
      Math.abs(sine - (axis === 0 ? a : b)) > READ_FROM * Math.hypot(u, heldRad) ? sine ** 2 / 2 : 0,
    )
    const commonRho = (b ** 2 - a ** 2) / 2
    const off = Math.abs(square.rho - middle - commonRho)
    const isFar = off > READ_FROM * Math.hypot(Math.sqrt(square.covariance[1]![1]!), heldRad ** 2)
    // Leaning much, what is held a little otherwise changes more.
    return { commonRho, ownRel: Math.max(...own, isFar ? off : 0) + (Math.abs(a) + Math.abs(b)) * heldRad }
  })
}

/** The lean that all marks share, the same at each or as one over the distance, where one of them is read beyond chance and beyond how one holds a reference; else none. */
function commonLean(
  all: readonly { readonly lean: Lean; readonly mark: FittedMark }[],
  heldRad: number,
): (mark: FittedMark) => number {
  const patterns = [() => 1, ({ point }: FittedMark) => 1 / point.distanceM]
  const fits = patterns.map((pattern) => {
    let [weighted, weight] = [0, 0]
    for (const { lean, mark } of all) {
      const share = pattern(mark)
      const perVariance = 1 / (lean.u ** 2 + heldRad ** 2)
      weighted += perVariance * share * lean.sine
      weight += perVariance * share ** 2
    }
    return { pattern, size: weighted / weight, drop: weighted ** 2 / weight }
  })
  const best = fits[1]!.drop > fits[0]!.drop ? fits[1]! : fits[0]!
  return best.drop > READ_FROM ** 2 ? (mark) => best.size * best.pattern(mark) : () => 0
}

/**
 * How much less likely the leans of the corners make it, on the scale of chi-square, that references lean by `sineAt` as a camera hangs higher or lower; negative where more.
 */
export function leanAgainst(
  leans: readonly { readonly lean: Lean; readonly sine: number }[],
  heldRad: number,
): number {
  const against = (sign: number): number =>
    leans.reduce(
      (sum, { lean, sine }) =>
        sum + ((lean.sine - sign * sine) ** 2 - lean.sine ** 2) / (lean.u ** 2 + heldRad ** 2),
      0,
    )
  return Math.min(against(1), against(-1))
}
