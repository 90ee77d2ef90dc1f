import type { FittedMark } from '../range/rangeFit.js'
import { seenSquare, type SeenSquare } from './seenSquare.js'
import { turnsRead } from './turnsRead.js'

/** A mark before the court: its numbers and what of them is its own. */
export interface CourtMark {
  readonly fitted: FittedMark
  readonly square: SeenSquare | null
  /** Standard deviations of rho and kappa by the angle that it may be turned by, or be seen at off the axis: the angle's square. */
  readonly rhoRel: number
  readonly kappaRel: number
  /** What a turn that its corners show would do to rho. */
  readonly turnedRho: number
}

/** Numbers a mark brings, and where in a column of its three each lies: ln density, rho, kappa. */
export const NUMBERS = 3
export const Y = 0
export const RHO = 1
export const KAPPA = 2

/** A walker holds a reference square to this, radians: this project's convention (3 degrees). */
export const HELD_RAD = (3 * Math.PI) / 180

/** The marks of a walk as the court sees them; marks of one light at one place stand together. */
export function courtMarks(all: readonly FittedMark[], lensKnown: boolean): CourtMark[] {
  const sorted = all.toSorted(
    (a, b) =>
      (a.mark.light < b.mark.light ? -1 : a.mark.light > b.mark.light ? 1 : 0) ||
      a.mark.distanceM - b.mark.distanceM,
  )
  const squares = sorted.map(seenSquare)
  const turns = turnsRead(sorted, squares, HELD_RAD)
  return sorted.map((fitted, i) => {
    const offAxisRel = (squares[i]?.offAxisRad ?? 0) ** 2 / 2
    const turnRel = HELD_RAD ** 2 + turns[i]!.ownRel
    // Densities that went through the lens know their place in the frame; corners do not.
    const rhoRel = turnRel + (lensKnown ? 0 : offAxisRel)
    return {
      fitted,
      square: squares[i]!,
      rhoRel,
      kappaRel: turnRel + offAxisRel,
      turnedRho: turns[i]!.commonRho,
    }
  })
}

/** A column of what each mark's ln density does (`y`), and its rho. */
export function columnOf(
  marks: readonly CourtMark[],
  y: (mark: CourtMark, index: number) => number,
  rho: (mark: CourtMark, index: number) => number = () => 0,
): Float64Array {
  const column = new Float64Array(NUMBERS * marks.length)
  marks.forEach((mark, i) => {
    column[NUMBERS * i + Y] = y(mark, i)
    column[NUMBERS * i + RHO] = mark.square === null ? 0 : rho(mark, i)
  })
  return column
}
