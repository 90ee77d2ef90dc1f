import { BINS_PER_PX, type EdgeProfile } from '../edge/edgeProfile.js'

/** A straight edge near a side, as a first look finds it. */
export interface EdgeCandidate {
  /** Where it lies across the side at its middle, px, outward positive, and how much farther out at the side's end than at its begin. */
  readonly offsetPx: number
  readonly slopePx: number
  /** Mean step from inside to outside, code values. */
  readonly stepCode: number
  /** Share of the side along which it is there. */
  readonly share: number
}

/** Ground that is averaged on each side of a place to tell a step, px. */
const GROUND_PX = 1.5
/** Candidates nearer to each other than this are one, px. */
const APART_PX = 1
/** A segment has an edge where its own step is this share of the mean one. */
const PRESENT = 0.4
/** Lines are tried so much turned against each other, px over the side. */
const TURN_PX = 0.5
/** A peak is the greatest step within 1 px across and 1.5 px of turn. */
const PEAK_STEPS = BINS_PER_PX
const PEAK_TURNS = 3
/** So many of the segments must be in the picture. */
const SEEN_SHARE = 0.7
const MOST_CANDIDATES = 6

/** Per segment the step (code values, outside less inside) at each place across, in steps of a bin; NaN where the ground is not seen. */
function stepCurves(profiles: readonly EdgeProfile[]): readonly Float64Array[] {
  const ground = GROUND_PX * BINS_PER_PX
  return profiles.map(({ count, codeSum }) => {
    const sums = new Float64Array(count.length + 1)
    const counts = new Float64Array(count.length + 1)
    for (let bin = 0; bin < count.length; bin += 1) {
      sums[bin + 1] = sums[bin]! + codeSum[bin]!
      counts[bin + 1] = counts[bin]! + count[bin]!
    }
    const curve = new Float64Array(count.length + 1).fill(NaN)
    for (let at = ground; at + ground <= count.length; at += 1) {
      const inside = counts[at]! - counts[at - ground]!
      const outside = counts[at + ground]! - counts[at]!
      if (inside > 0 && outside > 0)
        curve[at] = (sums[at + ground]! - sums[at]!) / outside - (sums[at]! - sums[at - ground]!) / inside
    }
    return curve
  })
}

/**
 * The straight edges in a strip along a side, strongest first: lines along which the step from inside to outside, averaged over the segments, is
 * greatest in size. `mostSlopePx`: how far they may lie turned against the side, px over its length.
 */
export function edgeCandidates(
  profiles: readonly EdgeProfile[],
  mostSlopePx: number,
  leastStepCode: number,
): readonly EdgeCandidate[] {
  const curves = stepCurves(profiles)
  const reachPx = profiles[0]!.reachPx
  const places = curves.map((_, index) => (index + 0.5) / curves.length - 0.5)
  const turns = Math.ceil(mostSlopePx / TURN_PX)
  const steps = Math.floor((reachPx - GROUND_PX) * BINS_PER_PX)
  const [rows, columns] = [2 * turns + 1, 2 * steps + 1]
  /** Where a line of column 0 crosses a segment's curve, by its row. */
  const begin = (index: number, row: number): number =>
    Math.round((row - turns) * TURN_PX * BINS_PER_PX * places[index]!) + reachPx * BINS_PER_PX - steps
  const mean = meanSteps(curves, rows, columns, begin)
  const found: EdgeCandidate[] = []
  for (let row = 0; row < rows; row += 1) {
    for (let column = 0; column < columns; column += 1) {
      const stepCode = mean[row * columns + column]!
      if (!(Math.abs(stepCode) >= leastStepCode) || !isPeak(mean, columns, row, column)) continue
      const [offsetPx, slopePx] = [(column - steps) / BINS_PER_PX, (row - turns) * TURN_PX]
      const own = curves.map((curve, index) => curve[begin(index, row) + column]! * Math.sign(stepCode))
      const share = own.filter((step) => step > PRESENT * Math.abs(stepCode)).length / own.length
      found.push({ offsetPx, slopePx, stepCode, share })
    }
  }
  found.sort((one, other) => candidateStrength(other) - candidateStrength(one))
  const kept: EdgeCandidate[] = []
  for (const one of found) {
    if (kept.length < MOST_CANDIDATES && !kept.some((other) => shadows(other, one))) kept.push(one)
  }
  return kept
}

/** The step averaged over the segments, by row (turn) and column (offset); NaN where too few are in the picture. */
function meanSteps(
  curves: readonly Float64Array[],
  rows: number,
  columns: number,
  begin: (index: number, row: number) => number,
): Float64Array {
  const mean = new Float64Array(rows * columns)
  const seen = new Uint16Array(columns)
  for (let row = 0; row < rows; row += 1) {
    const sums = mean.subarray(row * columns, (row + 1) * columns)
    seen.fill(0)
    for (let index = 0; index < curves.length; index += 1) {
      const curve = curves[index]!
      const from = begin(index, row)
      for (let column = Math.max(0, -from); column < Math.min(columns, curve.length - from); column += 1) {
        const step = curve[from + column]!
        if (step !== step) continue
        sums[column]! += step
        seen[column]! += 1
      }
    }
    for (let column = 0; column < columns; column += 1) {
      const enough = seen[column]! >= SEEN_SHARE * curves.length
      sums[column] = enough ? sums[column]! / seen[column]! : NaN
    }
  }
  return mean
}

/** Whether a mean step is the greatest of its sign around. */
function isPeak(mean: Float64Array, columns: number, row: number, column: number): boolean {
  const own = mean[row * columns + column]!
  const rows = mean.length / columns
  for (let y = Math.max(0, row - PEAK_TURNS); y <= Math.min(rows - 1, row + PEAK_TURNS); y += 1) {
    for (let x = Math.max(0, column - PEAK_STEPS); x <= Math.min(columns - 1, column + PEAK_STEPS); x += 1) {
      const other = mean[y * columns + x]! * Math.sign(own)
      const isBefore = y < row || (y === row && x < column)
      if (other > Math.abs(own) || (isBefore && other === Math.abs(own))) return false
    }
  }
  return true
}

/** How much an edge counts: its step where it is there along the side. */
export function candidateStrength({ stepCode, share }: EdgeCandidate): number {
  return Math.abs(stepCode) * share
}

/** Whether a weaker line is but a part of a stronger one: it crosses it or runs within a blur of it. */
function shadows(strong: EdgeCandidate, weak: EdgeCandidate): boolean {
  const offset = weak.offsetPx - strong.offsetPx
  const half = (weak.slopePx - strong.slopePx) / 2
  const [begin, end] = [offset - half, offset + half]
  return begin * end <= 0 || Math.min(Math.abs(begin), Math.abs(end)) < APART_PX
}
