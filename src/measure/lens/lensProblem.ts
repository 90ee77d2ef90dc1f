import type { Point } from '../../math/point.js'
import type { LensBlock, Stand } from './lensBlock.js'
import type { SheetSide } from './sheetSides.js'

/** All that is unknown of a walk: the lens with what all stills share, and where each reference stood. */
export interface LensState {
  readonly unknowns: Float64Array
  readonly stands: readonly Stand[]
}

/** What the state is fitted to. */
export interface LensProblem {
  readonly blocks: readonly LensBlock[]
  readonly priorSigma: Float64Array
  readonly sides: readonly SheetSide[]
  /** Places of the lights' ln F in the unknowns. */
  readonly logFAt: readonly number[]
  /** Middle of the still, px. */
  readonly middle: Point
}
