import type { ChartFit } from '../../chart/fit/chartFit.js'
import { viewPlaces } from '../../chart/fit/fitPixels.js'
import type { Quad } from '../../math/point.js'
import type { Pick as PointPick } from '../reference/pick.js'

export type CornersPick = Extract<PointPick, { kind: 'corners' }>

/**
 * What JPEG does at edges and the residuals do not show: standard deviation per coordinate, px. Without JPEG the intervals of simulated stills hold
 * without it; at quality 88 by day they held 92 of 100. This project's convention.
 */
const JPEG_PX = 0.002

/** What a shadow's own edge across the chart leaves, standard deviation per coordinate, px: half shadows at a half and a quarter of the light moved densities by 0.02 to 0.3 %. This project's convention. */
const UNEVEN_PX = 0.06

/** The frame's corners as a pick: method `found`, with the fit's covariance in the order x1, y1 ... y4 (px^2). `sigmaPx` is the mean per axis. Of a chart fitted in a flat
 * view the corners are the flat ones, `lensCovariancePx2` beside their own covariance, and `flattened` says where they are seen in the still. */
export function chartPick(
  fit: Pick<ChartFit, 'corners' | 'covariancePx2' | 'unevenLight' | 'view'>,
  lensCovariancePx2: readonly (readonly number[])[] | null = null,
): CornersPick {
  const { corners } = fit
  const free = JPEG_PX ** 2 + (fit.unevenLight === true ? UNEVEN_PX ** 2 : 0)
  const covariancePx2 = fit.covariancePx2.map((row, i) =>
    row.map((value, j) => (i === j ? value + free : value)),
  )
  const pick = { kind: 'corners', method: 'found', corners } as const
  const places = viewPlaces(fit.view)
  if (places === null) return { ...pick, sigmaPx: meanSigma(covariancePx2), covariancePx2 }
  const seen = corners.map(([x, y]) => places.toStill(x, y) ?? ([x, y] as const)) as unknown as Quad
  const joint = covariancePx2.map((row, i) =>
    row.map((value, j) => value + (lensCovariancePx2?.[i]?.[j] ?? 0)),
  )
  return {
    ...pick,
    sigmaPx: meanSigma(joint),
    covariancePx2: joint,
    flattened: { seen: { corners: seen, covariancePx2 } },
  }
}

function meanSigma(covariancePx2: readonly (readonly number[])[]): number {
  return Math.sqrt(covariancePx2.reduce((sum, row, i) => sum + row[i]!, 0) / 8)
}
