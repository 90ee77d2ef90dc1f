import { FRAME, modulePx } from '../../chart/printed/chartGeometry.js'
import { frameCorners } from '../../chart/match/chartCandidate.js'
import type { ChartDraft, ChartFit, FitOptions, NoFit } from '../../chart/fit/chartFit.js'
import { draftChart } from '../../chart/fit/draftChart.js'
import { finishChart } from '../../chart/fit/fitChart.js'
import type { GreyImage } from '../../chart/match/greyImage.js'
import { boxTo, mapPoint, type Homography } from '../../math/homography.js'
import { flatPlaces } from '../../lens/flatView.js'
import { success, type Outcome } from '../../math/outcome.js'
import type { Quad } from '../../math/point.js'
import { chartBend, type ChartBend } from './chartBend.js'
import type { StillFrame } from './lensFromBend.js'
import { readThroughOwnLens } from './readThroughOwnLens.js'

/** A chart fitted as it lies, or through the lens that its bend tells. */
export interface ThroughLens {
  readonly fit: ChartFit
  readonly bend: ChartBend | null
  /** What is unknown of that lens, in the flat corners, px^2; null where it is read as it lies. */
  readonly lensCovariancePx2: readonly (readonly number[])[] | null
}

/** Beyond this blur, modules, what lies behind the sheet looks like a bend. */
const MOST_BLUR_MODULES = 0.6
/** A bend as evident as that which no lens explains from the plane's fit may be too great for that fit to begin from. */
const GREAT_EVIDENCE = 100
/** A wide lens to begin with there: of pixels per radian alike all over, so many to half the still's diagonal. This project's convention. */
const WIDE_F = 0.75

/** Fits a chart from a map to the still's px, through the lens of its own bend where that is evident; `still` null: as it lies. */
export function fitFlatOrThroughLens(
  image: GreyImage,
  start: Homography,
  face: number,
  still: StillFrame | null,
  options: FitOptions,
): Outcome<ThroughLens, NoFit> {
  const plain = draftChart(image, start, options)
  const bend = plain.ok ? bendOf(image, plain.value.chart, face) : null
  if (still !== null && plain.ok && bend !== null) {
    const own = readThroughOwnLens(image, { fit: plain.value.chart, bend }, face, still, options)
    if (own !== null) return success(own)
  }
  const isBent = plain.ok ? bend !== null && bend.evidence > GREAT_EVIDENCE * bend.noise : true
  const own = still !== null && isBent ? fromWide(image, start, face, still, options) : null
  if (own !== null) return success(own)
  const fit = plain.ok ? finishChart(plain.value, options) : plain
  if (!fit.ok) return fit
  const isMoved = fit.value.unevenLight || fit.value.halo !== null
  return success({
    fit: fit.value,
    bend: isMoved ? bendOf(image, fit.value, face) : bend,
    lensCovariancePx2: null,
  })
}

/** How far a fit is from one plane's; null where blur hides that, or it cannot be told. */
export function bendOf(image: GreyImage, fit: ChartDraft, face: number): ChartBend | null {
  if (fit.blurSigmaPx > MOST_BLUR_MODULES * modulePx(fit.map)) return null
  return chartBend(image, fit, face)
}

/** The same begun in a wide lens' flat view. */
function fromWide(
  image: GreyImage,
  start: Homography,
  face: number,
  still: StillFrame,
  options: FitOptions,
): ThroughLens | null {
  const [centreX, centreY] = still.middle
  const lens = { p: 0, pixelsPerRadian: WIDE_F * still.halfDiagonalPx, centreX, centreY }
  const view = { lens, middle: mapPoint(start, 7, 5) }
  const places = flatPlaces(view)
  const corners = frameCorners(start).map(([x, y]) => places?.toFlat(x, y) ?? null)
  if (corners.includes(null)) return null
  const fit = draftChart(image, boxTo(FRAME, corners as unknown as Quad), { ...options, view })
  const bend = fit.ok ? bendOf(image, fit.value.chart, face) : null
  return fit.ok && bend !== null
    ? readThroughOwnLens(image, { fit: fit.value.chart, bend }, face, still, options)
    : null
}
