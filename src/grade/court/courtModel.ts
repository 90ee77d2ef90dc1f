import { choleskyInverse } from '../../math/cholesky.js'
import { COMMON_DRAWS } from '../marks/commonDraws.js'
import { ONE_MARK_M } from '../marks/markMeasurement.js'
import { OFFSET_PRIOR_M } from '../range/fitConstant.js'
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

/** Numbers a mark brings: ln density, rho, kappa. */
export const NUMBERS = 3
const Y = 0
const RHO = 1

/** What is freed of the walk while a cause is tried: the causes named before. */
export interface Freed {
  /** Columns of their own, over all numbers of all marks. */
  readonly columns: readonly Float64Array[]
  /** Metres added to each mark's distance. */
  readonly shiftsM: Float64Array
  /** Corners are so many times as rough as stated. */
  readonly roughness: number
}

/** The walk's numbers, whitened, against what is common to them: all that a cause is tried on. */
export interface CourtModel {
  readonly marks: readonly CourtMark[]
  readonly whiten: (column: Float64Array) => Float64Array
  readonly whitened: Float64Array
  readonly columns: readonly Float64Array[]
  /** Inverse of the normal matrix of the common columns, row by row; what they come to. */
  readonly inverse: Float64Array
  readonly solved: Float64Array
  readonly chi2: number
  readonly logDeterminant: number
}

/** A cause tried: its size, the size's standard uncertainty, the fall of chi-square. */
export interface Tried {
  readonly size: number
  readonly u: number
  readonly drop: number
}

/** A walker holds a reference square to this, radians: this project's convention (3 degrees). */
export const HELD_RAD = (3 * Math.PI) / 180
/** A lens off its axis draws across and upright differently by this, one standard deviation for the whole walk. This project's convention. */
const COMMON_RHO = 0.0015
// Of the width of a column that the common ones explain: what is left is rounding.
const LEAST_LEFT = 1e-9

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

/** An empty column over all numbers of the marks. */
function emptyColumn(marks: readonly CourtMark[]): Float64Array {
  return new Float64Array(NUMBERS * marks.length)
}

/** A column of what each mark's ln density does (`y`), and its rho. */
export function columnOf(
  marks: readonly CourtMark[],
  y: (mark: CourtMark, index: number) => number,
  rho: (mark: CourtMark, index: number) => number = () => 0,
): Float64Array {
  const column = emptyColumn(marks)
  marks.forEach((mark, i) => {
    column[NUMBERS * i + Y] = y(mark, i)
    column[NUMBERS * i + RHO] = mark.square === null ? 0 : rho(mark, i)
  })
  return column
}

/** The walk with what was freed. */
export function courtModel(marks: readonly CourtMark[], freed: Freed): CourtModel {
  const { inverses, logDeterminant } = blocks(marks, freed.roughness)
  const whiten = (column: Float64Array): Float64Array => whitenedBy(inverses, column)
  const target = columnOf(
    marks,
    ({ fitted: { point } }, i) => logTarget(point.densityPxPerM, point.distanceM, freed.shiftsM[i]!),
    ({ square }) => square!.rho,
  )
  marks.forEach(({ square }, i) => (target[NUMBERS * i + 2] = square?.kappa ?? 0))
  const free = [columnOf(marks, () => 1), ...freed.columns].map((column) => ({ column, prior: 0 }))
  const common = [...free, ...commonColumns(marks, freed.shiftsM).map((column) => ({ column, prior: 1 }))]
  const columns = common.map(({ column }) => whiten(column))
  const p = columns.length
  const normal = new Float64Array(p * p)
  for (let a = 0; a < p; a++)
    for (let b = 0; b <= a; b++) {
      const sum = product(columns[a]!, columns[b]!) + (a === b ? common[a]!.prior : 0)
      normal[a * p + b] = normal[b * p + a] = sum
    }
  // A cause freed twice over leaves nothing to tell the two apart by: a trace of a prior keeps both finite.
  for (let a = 0; a < p; a++) normal[a * p + a]! *= 1 + 1e-10
  const inverse = choleskyInverse(normal, p)!
  const whitened = whiten(target)
  const right = Float64Array.from(columns, (column) => product(column, whitened))
  const solved = times(inverse, right)
  const chi2 = product(whitened, whitened) - product(right, solved)
  return { marks, whiten, whitened, columns, inverse, solved, chi2, logDeterminant }
}

/** ln(density x distance) of a mark whose distance is longer by `shiftM`, taken along the slope there so that the shift adds to it as a column. */
function logTarget(densityPxPerM: number, distanceM: number, shiftM: number): number {
  const trueM = distanceM + shiftM
  return Math.log(densityPxPerM) + Math.log(trueM) - shiftM / trueM
}

/** Tries one column more (not whitened): its size against all that is common. */
export function tryColumn(model: CourtModel, column: Float64Array): Tried {
  const { whitened, columns, inverse, solved } = model
  const own = model.whiten(column)
  const shared = Float64Array.from(columns, (each) => product(each, own))
  const all = product(own, own)
  const left = all - product(shared, times(inverse, shared))
  if (!(left > LEAST_LEFT * all)) return { size: 0, u: Infinity, drop: 0 }
  const size = (product(own, whitened) - product(shared, solved)) / left
  return { size, u: 1 / Math.sqrt(left), drop: size ** 2 * left }
}

/** The columns of what is common to the walk, each 0 +/- 1: where the tape begins, sizes and habit of each reference, bend and lens, how it was held. */
function commonColumns(marks: readonly CourtMark[], shiftsM: Float64Array): Float64Array[] {
  const references = [...new Set(marks.map(({ fitted }) => fitted.mark.reference))]
  const draws = Array.from({ length: COMMON_DRAWS }, (_, draw) => draw)
  const ofReference = (draw: number): readonly (string | null)[] =>
    draw === 2 || draw > 3 ? [null] : references
  const byDraw = draws.flatMap((draw) =>
    ofReference(draw).map((reference) => {
      const isIts = ({ fitted }: CourtMark): boolean =>
        reference === null || fitted.mark.reference === reference
      return columnOf(
        marks,
        (mark) => (isIts(mark) ? mark.fitted.point.loads[draw]! : 0),
        (mark) => (isIts(mark) ? mark.square!.rhoLoads[draw]! : 0),
      )
    }),
  )
  const start = columnOf(marks, ({ fitted }, i) => -OFFSET_PRIOR_M / (fitted.point.distanceM + shiftsM[i]!))
  const offAxis = columnOf(
    marks,
    () => 0,
    () => COMMON_RHO,
  )
  const turned = columnOf(
    marks,
    () => 0,
    ({ turnedRho }) => turnedRho,
  )
  return [start, ...byDraw, offAxis, turned].filter((column) => column.some((each) => each !== 0))
}

interface Block {
  readonly from: number
  readonly size: number
  /** Inverse of the lower factor of its covariance, row by row. */
  readonly inverse: Float64Array
}

/** Marks of one light at one place share their tape: they are one block, independent of the others. */
function blocks(
  marks: readonly CourtMark[],
  roughness: number,
): { inverses: Block[]; logDeterminant: number } {
  const inverses: Block[] = []
  let logDeterminant = 0
  for (let first = 0; first < marks.length;) {
    let end = first + 1
    const { light, distanceM } = marks[first]!.fitted.mark
    const together = (index: number): boolean => {
      const other = marks[index]?.fitted.mark
      return other?.light === light && other.distanceM - distanceM <= ONE_MARK_M + 1e-9
    }
    while (together(end)) end++
    const size = NUMBERS * (end - first)
    const { inverse, logDet } = lowerInverse(blockCovariance(marks.slice(first, end), roughness), size)
    inverses.push({ from: NUMBERS * first, size, inverse })
    logDeterminant += logDet
    first = end
  }
  return { inverses, logDeterminant }
}

function blockCovariance(marks: readonly CourtMark[], roughness: number): Float64Array {
  const size = NUMBERS * marks.length
  const matrix = new Float64Array(size * size)
  marks.forEach(({ fitted: { point }, square, rhoRel, kappaRel }, i) => {
    const at = NUMBERS * i
    const add = (a: number, b: number, by: number): void => {
      matrix[(at + a) * size + at + b]! += by
    }
    if (square === null) {
      add(Y, Y, (roughness * point.ownRel) ** 2)
      add(RHO, RHO, 1)
      add(2, 2, 1)
    } else {
      square.covariance.forEach((row, a) => row.forEach((each, b) => add(a, b, roughness ** 2 * each)))
      add(RHO, RHO, rhoRel ** 2 + point.modelRel ** 2)
      add(2, 2, kappaRel ** 2)
    }
    // Two references are put down at one mark each by itself, here within half the tolerance. Put down anew within all of it, honest walks are accused in 6 of 100; taken
    // for held at one place, in 25 to 43 (simulated).
    const placedRel = marks.length > 1 ? Math.max(ONE_MARK_M, point.tapeM / 2) / point.distanceM : 0
    add(Y, Y, HELD_RAD ** 4 / 2 + point.modelRel ** 2 + placedRel ** 2)
    marks.forEach((other, j) => {
      matrix[at * size + NUMBERS * j]! +=
        (point.tapeM / point.distanceM) * (other.fitted.point.tapeM / other.fitted.point.distanceM)
    })
  })
  return matrix
}

/** Inverse of the lower Cholesky factor and the logarithm of the determinant of a positive definite matrix, which is overwritten. */
function lowerInverse(matrix: Float64Array, k: number): { inverse: Float64Array; logDet: number } {
  const inverse = new Float64Array(k * k)
  let logDet = 0
  for (let i = 0; i < k; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * k + j]!
      for (let l = 0; l < j; l++) sum -= matrix[i * k + l]! * matrix[j * k + l]!
      matrix[i * k + j] = i === j ? Math.sqrt(sum) : sum / matrix[j * k + j]!
    }
    const pivot = matrix[i * k + i]!
    logDet += 2 * Math.log(pivot)
    for (let j = 0; j <= i; j++) {
      let sum = i === j ? 1 : 0
      for (let l = j; l < i; l++) sum -= matrix[i * k + l]! * inverse[l * k + j]!
      inverse[i * k + j] = sum / pivot
    }
  }
  return { inverse, logDet }
}

function whitenedBy(inverses: readonly Block[], column: Float64Array): Float64Array {
  const out = new Float64Array(column.length)
  for (const { from, size, inverse } of inverses)
    for (let i = 0; i < size; i++)
      for (let j = 0; j <= i; j++) out[from + i]! += inverse[i * size + j]! * column[from + j]!
  return out
}

function product(a: Float64Array, b: Float64Array): number {
  let sum = 0
  for (let i = 0; i < a.length; i++) sum += a[i]! * b[i]!
  return sum
}

function times(matrix: Float64Array, vector: Float64Array): Float64Array {
  const k = vector.length
  return Float64Array.from(vector, (_, i) => product(matrix.subarray(i * k, (i + 1) * k), vector))
}
