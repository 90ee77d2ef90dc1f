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
