import type { Point, Quad } from '../../math/point.js'
import { problem } from '../../sentences.js'
import { sideLines } from '../edge/sideLine.js'
import type { PickDoubt } from '../reference/pick.js'
import type { RectangleReference } from '../reference/reference.js'
import { measureSays } from '../sentences.js'
import type { Problem } from '../stillMeasurement.js'

/** What a fit doubts of its outline: a word for the person who looks at it, and the other outline that may be meant. */
export type SnapDoubt = Problem & PickDoubt

/** How the outline was given: which corners a person placed (the others are guessed), and how well, px, one standard deviation per axis. */
export interface GivenOutline {
  readonly corners: Quad
  readonly placed: readonly boolean[]
  readonly clickSigmaPx: number
}

export const SIDE_NAMES = ['top', 'right side', 'bottom', 'left side'] as const
/** A side that moved farther than so many standard deviations of its clicks was not clicked on the edge it went to. */
const FAR_SIGMAS = 3
/** Densities along the sides that differ by more are no view of the reference held nearly square. */
const MOST_RATIO = 1.18
const LEAST_RATIO = 0.85
/** Unknown, a dark border lies within this outside what is seen, metres, and so many px: most plates' borders, by trial. */
const BORDER_M = 0.004
const BORDER_PX = 0.2
/** A border's line is so wide, metres. */
const LINE_M = 0.003

/** What is to be doubted of a fitted outline, the gravest first. `hidesBorder`: whether a border at the rim would not show, for the size or a ground as dark. */
export function snapDoubts(
  fitted: Quad,
  given: GivenOutline,
  reference: RectangleReference,
  hidesBorder: boolean,
): SnapDoubt[] {
  const moved = movedSides(fitted, given)
  const far = moved.filter(({ movedPx }) => movedPx > FAR_SIGMAS * given.clickSigmaPx)
  const other = clickedOutline(fitted, given)
  const beside = other === null ? {} : { corners: other }
  const [across, down] = densities(fitted, reference)
  const ratio = across / down
  const isOff = ratio > MOST_RATIO || ratio < LEAST_RATIO
  return [
    ...(far.length > 0 ? [{ ...problem(measureSays['snap-moved-far'](far)), ...beside }] : []),
    ...(isOff
      ? [{ ...problem(measureSays['snap-shape'](100 * Math.abs(Math.max(ratio, 1 / ratio) - 1))), ...beside }]
      : []),
    ...(hidesBorder && beyondM(reference) > 0 ? [borderDoubt(fitted, reference)] : []),
  ]
}

/** How far outside what is seen the rim may lie, metres: 0 where that is known. What is seen of an inset border is the rim, or its line's inner edge. */
function beyondM({ marking, border, chart }: RectangleReference): number {
  if (marking === 'plain' || chart !== undefined) return 0
  if (border?.kind === 'inset') return border.insetM + LINE_M
  return border === undefined ? BORDER_M : 0
}

/** The rim lies anywhere from what is seen to the widest border. */
function borderDoubt(fitted: Quad, reference: RectangleReference): SnapDoubt {
  const byM = densities(fitted, reference).map((density) => beyondM(reference) * density + BORDER_PX)
  const [acrossPx, downPx] = byM as [number, number]
  const said = problem(measureSays['snap-border-unknown'](reference.name, Math.max(acrossPx, downPx)))
  return { ...said, corners: shiftedOutline(fitted, [downPx, acrossPx, downPx, acrossPx]) }
}

/** Densities along and down by the lengths of the sides, px/m. */
function densities(corners: Quad, { widthM, heightM }: RectangleReference): readonly [number, number] {
  const [top, right, bottom, left] = sideLines(corners).map(({ lengthPx }) => lengthPx)
  return [(top! + bottom!) / 2 / widthM, (right! + left!) / 2 / heightM]
}

/** How far each side lies from the corners that a person placed on it, px, root mean square; sides without any are left out. */
function movedSides(fitted: Quad, { corners, placed }: GivenOutline): { side: string; movedPx: number }[] {
  return sideLines(fitted).flatMap(({ from, outward }, i) => {
    const far = [i, (i + 1) % 4]
      .filter((corner) => placed[corner] === true)
      .map((corner) => across(corners[corner]!, from, outward))
    if (far.length === 0) return []
    return [{ side: SIDE_NAMES[i]!, movedPx: Math.hypot(...far) / Math.sqrt(far.length) }]
  })
}

/** The outline with its sides where the placed corners have them; null where no corner was placed. */
function clickedOutline(fitted: Quad, { corners, placed }: GivenOutline): Quad | null {
  if (placed.every((one) => !one)) return null
  if (placed.every((one) => one)) return corners
  const lines = sideLines(fitted)
  const shifts = lines.map(({ from, outward }, i) => {
    const far = [i, (i + 1) % 4]
      .filter((corner) => placed[corner] === true)
      .map((corner) => across(corners[corner]!, from, outward))
    return far.length === 0 ? 0 : far.reduce((sum, one) => sum + one, 0) / far.length
  })
  const moved = shiftedOutline(fitted, shifts)
  return moved.map((corner, i) => (placed[i] === true ? corners[i]! : corner)) as unknown as Quad
}

/** How far a place lies out of a side, px. */
function across([x, y]: Point, from: Point, outward: Point): number {
  return (x - from[0]) * outward[0] + (y - from[1]) * outward[1]
}

/** An outline with each side (top, right, bottom, left) moved outward by so many px. */
export function shiftedOutline(corners: Quad, outwardPx: readonly number[]): Quad {
  const lines = sideLines(corners)
  return corners.map(([x, y], i): Point => {
    const [before, after] = [(i + 3) % 4, i]
    const [[a, b], [c, d]] = [lines[before]!.outward, lines[after]!.outward]
    const [p, q] = [outwardPx[before]!, outwardPx[after]!]
    const determinant = a * d - b * c
    return [x + (p * d - q * b) / determinant, y + (a * q - c * p) / determinant]
  }) as unknown as Quad
}
