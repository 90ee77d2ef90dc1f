import { failure, success, type Outcome } from '../../math/outcome.js'
import type { ChartBend } from './chartBend.js'
import type { MeasuredChart } from './measureChart.js'
import { problem } from '../../sentences.js'
import { measureSays } from '../sentences.js'

// This project's convention, set on simulated stills. Of the evidence over what is left unexplained (noise that hangs together counts for less),
// curled charts gave 10 and more wherever the curl changed the density by more than its uncertainty, flat ones 6 at most. Shadows and hands leave
// 4.5 to 40 times the noise unexplained, a curl 1.4, and 3.4 after noise reduction.
const LEAST_EVIDENCE = 8
const LEAST_FARTHEST_MODULES = 0.03
export const MOST_UNEXPLAINED = 4
const LEAST_KEPT = 0.985
/** How much of what is unexplained the fit's own covariance holds already, times the noise: from hands of 3.5 modules and hard shadows on simulated stills. */
const NOISE_STATED = 2
/** So much evidence where the bend does not explain the chart says that it is bent in a way squares and cubes do not describe. */
const REFUSED_EVIDENCE = 1000
/** What the corners are moved by is known to so much of itself, as a standard uncertainty. */
const MOVE_UNCERTAINTY = 0.3

/**
 * A measured chart whose paper is bent, or was bent by the lens, told and put right: its corners become those of the plane that touches it at
 * its middle, with what that moved them by in their covariance. Stated less surely where light and shade or a hand lie over it. Left as it is
 * where it lies flat and clear; fails where it is bent too much.
 */
export function flattenChart(chart: MeasuredChart): Outcome<MeasuredChart, 'bent'> {
  const { bend } = chart
  if (bend === null) return success(chart)
  if (!explains(bend)) {
    if (bend.evidence >= REFUSED_EVIDENCE && bend.farthestModules >= LEAST_FARTHEST_MODULES)
      return failure(measureSays.bent())
    return success(bend.unexplained > MOST_UNEXPLAINED ? lessSure(chart, bend.unexplained) : chart)
  }
  const isFlat = bend.evidence < LEAST_EVIDENCE * bend.noise
  if (isFlat || bend.farthestModules < LEAST_FARTHEST_MODULES) return success(chart)
  const { pick } = chart
  const moved = pick.corners.flatMap(([x, y], k) => {
    const [flatX, flatY] = bend.flatCorners[k] ?? [x, y]
    return [flatX - x, flatY - y]
  })
  const covariancePx2 = pick.covariancePx2?.map((row, i) =>
    row.map((value, j) => value + MOVE_UNCERTAINTY ** 2 * moved[i]! * moved[j]!),
  )
  return success({
    ...chart,
    pick: withCovariance({ ...pick, corners: bend.flatCorners, flattened: { seen: null } }, covariancePx2),
    problems: [...chart.problems, problem(measureSays['chart-bent'](bend.farthestModules))],
  })
}

/** A chart that something else than noise without memory lies over: its corners' covariance grows with how much that is. */
function lessSure(chart: MeasuredChart, unexplained: number): MeasuredChart {
  const covariancePx2 = chart.pick.covariancePx2?.map((row) =>
    row.map((value) => (value * unexplained) / NOISE_STATED),
  )
  return { ...chart, pick: withCovariance(chart.pick, covariancePx2) }
}

function withCovariance(
  pick: MeasuredChart['pick'],
  covariancePx2: readonly (readonly number[])[] | undefined,
): MeasuredChart['pick'] {
  if (covariancePx2 === undefined) return pick
  const trace = covariancePx2.reduce((sum, row, i) => sum + (row[i] ?? 0), 0)
  return { ...pick, covariancePx2, sigmaPx: Math.sqrt(trace / 8) }
}

/** Whether the bend is all there is: no shadow, no hand, nothing that squares and cubes leave over. */
function explains({ unexplained, kept }: ChartBend): boolean {
  return unexplained <= MOST_UNEXPLAINED && kept >= LEAST_KEPT
}
