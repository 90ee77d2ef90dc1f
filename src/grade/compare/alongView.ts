import { chi2Quantile } from '../../math/quantiles.js'
import { fitWeightedLine } from '../../math/weightedLine.js'
import type { SharedMark } from './comparison.js'
import { TAPE_START_U_M } from './densityChange.js'

/** A camera that moved along its view (and was zoomed): ln(after / before) = zoom + nearerM / distance, to first order. Standard uncertainty. */
interface AlongView {
  readonly nearerM: number
  readonly nearerU: number
  /** Whether the marks agree with that within what is stated. */
  readonly fits: boolean
}

const FITS_POINT = 0.99

/** Fits a move along the view and a zoom to the shared marks; null where they lie at fewer than two distances, or are two and so fit anything. */
export function alongView(shared: readonly SharedMark[]): AlongView | null {
  const line = fitWeightedLine(
    shared.map(({ pair, density }) => ({
      x: 1 / pair.before.lineOfSightM,
      y: density.logRatio,
      weight: 1 / density.ownRel ** 2,
    })),
  )
  if (!line.ok || line.value.dof < 1) return null
  const { slope, slopeVariance, residualSum, dof } = line.value
  return {
    nearerM: slope,
    // Where both tapes begin is not known better than this, and it looks like a move.
    nearerU: Math.hypot(Math.sqrt(slopeVariance), TAPE_START_U_M * Math.SQRT2),
    fits: residualSum <= chi2Quantile(FITS_POINT, dof),
  }
}
