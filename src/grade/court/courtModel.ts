import { choleskyInverse } from '../../math/cholesky.js'
import { dot } from '../../math/normalEquations.js'
import { BEND_DRAW, COMMON_DRAWS, LENS_DRAWS } from '../marks/commonDraws.js'
import { OFFSET_PRIOR_M } from '../range/fitConstant.js'
import { columnOf, type CourtMark, KAPPA, NUMBERS } from './courtMarks.js'
import { whitenMarks } from './whitenMarks.js'

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
  /** Of pixels not square: whether the corners leave it open that references were held turned instead. */
  readonly mayBeTurn?: boolean
}

/** A lens off its axis draws across and upright differently by this, one standard deviation for the whole walk. This project's convention. */
const COMMON_RHO = 0.0015
// Of the width of a column that the common ones explain: what is left is rounding.
const LEAST_LEFT = 1e-9

/** The walk as stated: no cause named yet. */
export function nothingFreed(marks: readonly CourtMark[]): Freed {
  return { columns: [], shiftsM: new Float64Array(marks.length), roughness: 1 }
}

/** The walk with what was freed. */
export function courtModel(marks: readonly CourtMark[], freed: Freed): CourtModel {
  const { whiten, logDeterminant } = whitenMarks(marks, freed.roughness)
  const target = columnOf(
    marks,
    ({ fitted: { point } }, i) => logTarget(point.densityPxPerM, point.distanceM, freed.shiftsM[i]!),
    ({ square }) => square!.rho,
  )
  marks.forEach(({ square }, i) => (target[NUMBERS * i + KAPPA] = square?.kappa ?? 0))
  const free = [columnOf(marks, () => 1), ...freed.columns].map((column) => ({ column, prior: 0 }))
  const common = [...free, ...commonColumns(marks, freed.shiftsM).map((column) => ({ column, prior: 1 }))]
  const columns = common.map(({ column }) => whiten(column))
  const p = columns.length
  const normal = new Float64Array(p * p)
  for (let a = 0; a < p; a++)
    for (let b = 0; b <= a; b++) {
      const sum = dot(columns[a]!, columns[b]!) + (a === b ? common[a]!.prior : 0)
      normal[a * p + b] = normal[b * p + a] = sum
    }
  // A cause freed twice over leaves nothing to tell the two apart by: a trace of a prior keeps both finite.
  for (let a = 0; a < p; a++) normal[a * p + a]! *= 1 + 1e-10
  const inverse = choleskyInverse(normal, p)!
  const whitened = whiten(target)
  const right = Float64Array.from(columns, (column) => dot(column, whitened))
  const solved = times(inverse, right)
  const chi2 = dot(whitened, whitened) - dot(right, solved)
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
  const shared = Float64Array.from(columns, (each) => dot(each, own))
  const all = dot(own, own)
  const left = all - dot(shared, times(inverse, shared))
  if (!(left > LEAST_LEFT * all)) return { size: 0, u: Infinity, drop: 0 }
  const size = (dot(own, whitened) - dot(shared, solved)) / left
  return { size, u: 1 / Math.sqrt(left), drop: size ** 2 * left }
}

/** The columns of what is common to the walk, each 0 +/- 1: where the tape begins, sizes and habit of each reference, bend and lens, how it was held. */
function commonColumns(marks: readonly CourtMark[], shiftsM: Float64Array): Float64Array[] {
  const references = [...new Set(marks.map(({ fitted }) => fitted.mark.reference))]
  const draws = Array.from({ length: COMMON_DRAWS }, (_, draw) => draw)
  const ofReference = (draw: number): readonly (string | null)[] =>
    draw === BEND_DRAW || LENS_DRAWS.includes(draw) ? [null] : references
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

function times(matrix: Float64Array, vector: Float64Array): Float64Array {
  const k = vector.length
  return Float64Array.from(vector, (_, i) => dot(matrix.subarray(i * k, (i + 1) * k), vector))
}
