import { failure, type Outcome, success } from '../../math/outcome.js'
import { chi2Quantile } from '../../math/quantiles.js'
import { centredDensity } from '../marks/commonDraws.js'
import { chooseAxis } from '../marks/chooseAxis.js'
import { type FittedConstant, fitConstant } from './fitConstant.js'
import { stillAngleRad } from '../marks/markDirection.js'
import type { MarkMeasurement } from '../marks/markMeasurement.js'
import type { FittedMark, RangeFit } from './rangeFit.js'
import { gradeSays } from '../sentences.js'
import { findSuspect } from './suspectMark.js'

/** Fewer marks than this fit no range. */
const LEAST_MARKS = 3
/** Freedom of the one-constant model where the lens is unknown and marks stand at different field angles; this project's convention. */
export const MODEL_FREEDOM_REL = 0.01
// Field angles further apart than this are different: a rectilinear lens' density changes by 0.8 % in the first 5 degrees. This project's convention.
const SAME_ANGLE_RAD = (5 * Math.PI) / 180
const WIDENING_POINT = 0.99

/** What a fit needs to know of the walk. */
export interface RangeConditions {
  /** Half-width of the tape's tolerance, metres (rectangular distribution). */
  readonly distanceToleranceM: number
  /** Whether the lens is known and all corners went through it, so that densities compare wherever in the frame they were measured. */
  readonly lensKnown: boolean
}

/**
 * Fits the one constant of a light and reference to its marks (combined, ascending). A mark that fits none of the others is left out and named,
 * one at most, and only where three remain. Fails under three marks at different distances.
 */
export function fitRange(
  marks: readonly MarkMeasurement[],
  conditions: RangeConditions,
): Outcome<RangeFit, 'too-few-marks'> {
  const usable = marks.filter(({ lineOfSightM }) => lineOfSightM > 0)
  if (usable.length < LEAST_MARKS) return failure(gradeSays['too-few-marks'](LEAST_MARKS, usable.length))
  const fitted = withModelFreedom(
    usable.map((mark) => fittedMark(mark, conditions)),
    conditions,
  )
  const suspect = fitted.length > LEAST_MARKS ? findSuspect(fitted) : null
  const kept = suspect === null ? fitted : fitted.filter(({ mark }) => mark !== suspect.mark)
  const constant = fitConstant(kept.map(({ point }) => point))
  return success({ marks: kept, constant, suspect, ...widened(constant, kept.length) })
}

function fittedMark(mark: MarkMeasurement, { distanceToleranceM }: RangeConditions): FittedMark {
  const { used, usedIsBetterKnown } = chooseAxis(mark)
  const axis = mark.axes[used]!
  // Taped along the ground, the line of sight's share of the tape shrinks by as much as that of the heights, taped alike, grows.
  const point = {
    distanceM: mark.lineOfSightM,
    densityPxPerM: centredDensity(axis),
    ownRel: axis.cornersRel,
    tapeM: distanceToleranceM / Math.sqrt(3),
    modelRel: 0,
  }
  return { mark, used, usedIsBetterKnown, point }
}

function withModelFreedom(
  fitted: readonly FittedMark[],
  { lensKnown }: RangeConditions,
): readonly FittedMark[] {
  if (lensKnown) return fitted
  const pixelsPerRadian = Math.exp(fitConstant(fitted.map(({ point }) => point)).logConstant)
  const angles = fitted.map(({ mark }) => stillAngleRad(mark, pixelsPerRadian))
  if (Math.max(...angles) - Math.min(...angles) <= SAME_ANGLE_RAD) return fitted
  return fitted.map((each) => ({ ...each, point: { ...each.point, modelRel: MODEL_FREEDOM_REL } }))
}

// The offset's prior counts as one datum, so the constant and the offset leave n - 1 degrees of freedom.
function widened(constant: FittedConstant, count: number): { widening: number; dof: number } {
  const dof = count - 1
  if (constant.chi2 <= chi2Quantile(WIDENING_POINT, dof)) return { widening: 1, dof: Infinity }
  return { widening: Math.sqrt(constant.chi2 / dof), dof }
}
