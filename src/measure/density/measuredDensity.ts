import type { Point } from '../../math/point.js'
import type { CornerFailure } from './cornerSet.js'
import type { EndFailure } from './endSet.js'
import type { Density, DensityBudget, Pose, Problem } from '../stillMeasurement.js'
import type { CameraLens } from '../../lens/cameraLens.js'
import type { KnownLens } from '../../lens/knownLens.js'

/** What is known around a pick. */
export interface DensityContext {
  /** Size of the still as displayed, px. */
  readonly stillWidth: number
  readonly stillHeight: number
  /** Line of sight to the reference, metres, where known: it sizes the bend. */
  readonly distanceM?: number | null
  /** The lens where one is known: gives pose and facing density. */
  readonly lens?: CameraLens | null
  /** The lens where it is known well enough for the points to go through it; stands in for `lens`. */
  readonly known?: KnownLens | null
}

/** A density with what stands behind it. */
export interface MeasuredDensity {
  /** As used: four, clockwise from the reference's own top left, or two ends; px. */
  readonly corners: readonly Point[]
  readonly density: Density
  readonly budget: DensityBudget
  /** Null without a lens, and for a length. */
  readonly pose: Pose | null
  readonly problems: readonly Problem[]
}

export type DensityFailure = CornerFailure | EndFailure | 'pick-not-of-reference'
