import { chi2Quantile } from '../../math/quantiles.js'
import type { SceneEvidence } from '../scene/sceneEvidence.js'
import { BEND_DRAW, centredDensity, commonLoads } from '../marks/commonDraws.js'
import { chooseAxis } from '../marks/chooseAxis.js'
import { type FittedConstant, fitConstant } from './fitConstant.js'
import { stillAngleRad } from '../marks/markDirection.js'
import type { MarkMeasurement } from '../marks/markMeasurement.js'
import type { FittedMark, RangeFit, SuspectMark } from './rangeFit.js'

/** With fewer marks no range is stated, and no mark can be told from the others. */
export const LEAST_MARKS = 3
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
  /** What the scene speaks against; nothing where it was not looked at. */
  readonly scene?: SceneEvidence
}

/** How a series is fitted where something is wrong with the walk. */
export interface FitGiven {
  readonly marks: readonly FittedMark[]
  /** Standard deviation of where the tape begins, metres. */
  readonly startPriorM: number
  /** Corners are so many times as rough as stated. */
  readonly roughness: number
  /** What the logarithm of the constant is off by. */
  readonly logShift: number
  readonly suspect: SuspectMark | null
  /** Of how many references of its light it is one. */
  readonly among: number
}

/** Fits the one constant of a light and reference to its marks (as `fittedMarks` makes them, one at least). */
export function fitRange(given: FitGiven, { distanceToleranceM }: RangeConditions): RangeFit {
  const marks = given.marks.map((each) => ({
    ...each,
    point: { ...each.point, ownRel: given.roughness * each.point.ownRel },
  }))
  const fitted = fitConstant(
    marks.map(({ point }) => point),
    given.startPriorM,
  )
  const constant = { ...fitted, logConstant: fitted.logConstant + given.logShift }
  const { suspect, among } = given
  return {
    marks,
    constant,
    suspect,
    toleranceM: distanceToleranceM,
    among,
    ...widened(constant, marks.length),
    otherwise: [],
    otherwiseBy: [],
    lent: null,
  }
}

/** The marks of one light and reference as they go into a fit. */
export function fittedMarks(
  marks: readonly MarkMeasurement[],
  conditions: RangeConditions,
): readonly FittedMark[] {
  const usable = marks.filter(({ lineOfSightM }) => lineOfSightM > 0)
  return withModelFreedom(
    usable.map((mark) => fittedMark(mark, conditions)),
    conditions,
  )
}

function fittedMark(mark: MarkMeasurement, { distanceToleranceM }: RangeConditions): FittedMark {
  const used = chooseAxis(mark)
  const axis = mark.axes[used]!
  // A lens of unknown projection draws a reference smaller than it is by something between nothing and the whole bend, so half of it is put back. Squared in as
  // a draw around nothing, the density at a near mark would be covered too seldom.
  const halfBend = (Math.sqrt(3) * axis.bendRel) / 2
  // Taped along the ground, the line of sight's share of the tape shrinks by as much as that of the heights, taped alike, grows.
  const point = {
    distanceM: mark.lineOfSightM,
    densityPxPerM: centredDensity(axis) * Math.exp(halfBend),
    ownRel: axis.cornersRel,
    tapeM: distanceToleranceM / Math.sqrt(3),
    modelRel: 0,
    loads: commonLoads(axis, used).map((load, draw) => (draw === BEND_DRAW ? load / 2 : load)),
  }
  return { mark, used, point }
}

function withModelFreedom(
  fitted: readonly FittedMark[],
  { lensKnown }: RangeConditions,
): readonly FittedMark[] {
  if (lensKnown || fitted.length === 0) return fitted
  const pixelsPerRadian = Math.exp(fitConstant(fitted.map(({ point }) => point)).logConstant)
  const angles = fitted.map(({ mark }) => stillAngleRad(mark, pixelsPerRadian))
  if (Math.max(...angles) - Math.min(...angles) <= SAME_ANGLE_RAD) return fitted
  return fitted.map((each) => ({ ...each, point: { ...each.point, modelRel: MODEL_FREEDOM_REL } }))
}

// The offset's prior counts as one datum, so the constant and the offset leave n - 1 degrees of freedom.
function widened(constant: FittedConstant, count: number): { widening: number; dof: number } {
  const dof = count - 1
  if (dof === 0) return { widening: 1, dof: Infinity }
  if (constant.chi2 <= chi2Quantile(WIDENING_POINT, dof)) return { widening: 1, dof: Infinity }
  return { widening: Math.sqrt(constant.chi2 / dof), dof }
}
