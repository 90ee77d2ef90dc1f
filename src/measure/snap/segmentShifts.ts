import { inverse, Matrix } from 'ml-matrix'
import type { EdgeProfile } from '../edge/edgeProfile.js'
import type { EdgeAperture } from '../edge/edgeResponse.js'
import { stepsCode, type StepsModel } from './stepsModel.js'

/** How far one segment's edge lies from the pooled one, px outward, and how well that is known. */
export interface SegmentShift {
  readonly shiftPx: number
  /** Variance for the noise that the segments' own residuals show, px^2. */
  readonly variancePx2: number
  /** The segment's own step over the pooled one. */
  readonly stepShare: number
}

/** What of a model is free in each segment, by index: the edge, with others that move together with it, and levels. */
export interface FreeInSegment {
  readonly edge: number
  readonly edges: readonly number[]
  readonly levels: readonly number[]
}

/**
 * The shift of one edge of the pooled model in each segment, its place and the levels beside it free (or what `free` says), by one linear step, from the bins within
 * `reachPx` of the edge; null where a segment does not determine it. The noise is that of all segments' residuals together.
 */
export function segmentShifts(
  segments: readonly EdgeProfile[],
  model: StepsModel,
  free: FreeInSegment,
  aperture: EdgeAperture,
  reachPx: number,
): readonly (SegmentShift | null)[] {
  const solved = segments.map((segment) => solveSegment(segment, model, free, aperture, reachPx))
  let [squares, dof] = [0, 0]
  for (const one of solved) {
    if (one === null) continue
    squares += one.squares
    dof += one.dof
  }
  const noise = dof > 0 ? squares / dof : NaN
  return solved.map((one) => {
    if (one === null || !(one.unitVariance > 0)) return null
    const { shiftPx, unitVariance, stepShare } = one
    return { shiftPx, variancePx2: Math.max(noise, LEAST_NOISE) * unitVariance, stepShare }
  })
}

/** Variance of a code value that rounding alone leaves. */
const LEAST_NOISE = 1 / 12

interface SolvedSegment {
  readonly shiftPx: number
  readonly unitVariance: number
  readonly stepShare: number
  readonly squares: number
  readonly dof: number
}

function solveSegment(
  segment: EdgeProfile,
  model: StepsModel,
  { edge, edges: together, levels }: FreeInSegment,
  aperture: EdgeAperture,
  reachPx: number,
): SolvedSegment | null {
  const edges = model.edgesPx.length
  const code = stepsCode(model, aperture)
  const gradient = new Float64Array(2 * edges + 2)
  const rows: number[][] = []
  const right: number[] = []
  const columns = [...levels.map((level) => [level]), together.map((one) => edges + 1 + one)]
  const place = columns.length - 1
  for (let bin = 0; bin < segment.count.length; bin += 1) {
    const count = segment.count[bin]!
    if (count < 0.5) continue
    const at = segment.acrossSum[bin]! / count
    if (Math.abs(at - model.edgesPx[edge]!) > reachPx) continue
    const weight = Math.sqrt(count)
    right.push(weight * (segment.codeSum[bin]! / count - code(at, gradient)))
    rows.push(columns.map((ones) => weight * ones.reduce((sum, one) => sum + gradient[one]!, 0)))
  }
  if (rows.length < columns.length + 2) return null
  const design = new Matrix(rows)
  const normal = design.transpose().mmul(design)
  let spread: Matrix
  try {
    spread = inverse(normal)
  } catch {
    return null
  }
  const step = spread.mmul(design.transpose().mmul(Matrix.columnVector(right))).to1DArray()
  if (!step.every(Number.isFinite)) return null
  const left = design.mmul(Matrix.columnVector(step)).sub(Matrix.columnVector(right))
  const [inside, outside] = [model.levels[edge]!, model.levels[edge + 1]!]
  const grown = (level: number): number => {
    const at = levels.indexOf(level)
    return at < 0 ? 1 : Math.exp(clamp(step[at]!))
  }
  const own = outside * grown(edge + 1) - inside * grown(edge)
  return {
    shiftPx: step[place]!,
    unitVariance: spread.get(place, place),
    stepShare: own / (outside - inside),
    squares: left.to1DArray().reduce((sum, value) => sum + value * value, 0),
    dof: rows.length - columns.length,
  }
}

function clamp(logarithm: number): number {
  return Math.max(-2, Math.min(2, logarithm))
}
