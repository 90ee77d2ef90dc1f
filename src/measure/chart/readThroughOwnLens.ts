import { FIELD, FRAME } from '../../chart/printed/chartGeometry.js'
import { boxTo, inverseHomography, mapPoint } from '../../math/homography.js'
import type { ChartDraft, ChartFit, FitOptions } from '../../chart/fit/chartFit.js'
import { fitChart } from '../../chart/fit/fitChart.js'
import { viewPlaces } from '../../chart/fit/fitPixels.js'
import type { GreyImage } from '../../chart/match/greyImage.js'
import type { CameraLens } from '../../lens/cameraLens.js'
import { cubicOfP } from '../../lens/cubicBend.js'
import { flatPlaces, type FlatView } from '../../lens/flatView.js'
import type { Point, Quad } from '../../math/point.js'
import { BEND_TERMS, pixelOf, PLANE_TERMS, placeOf, writeTerms } from './bendShape.js'
import { chartBend, type ChartBend } from './chartBend.js'
import { bendThroughLens } from './bendThroughLens.js'
import { lensFromBend, type LensFromBend, type StillFrame } from './lensFromBend.js'

/** A chart read through the lens that its own bend tells. */
export interface OwnLens {
  /** In the flat view of that lens. */
  readonly fit: ChartFit
  readonly bend: ChartBend
  /** What is unknown of the lens, in the flat corners x1, y1 ... y4, px^2. */
  readonly lensCovariancePx2: readonly (readonly number[])[]
}

/** How much of chi-square a lens of two parameters must explain to be believed: noise alone explains that much once in 3000 stills. This project's convention. */
const LEAST_EXPLAINED = 16
/** What it leaves of the eight terms, a term, over what is unexplained: more is no lens' doing, but a curl's. */
const MOST_LEFT = 6
/** A lens is a member of the family only nearly: what its bend moves is known to so much of itself, a standard uncertainty. This project's convention. */
const FAMILY_REL = 0.005
/** Looks at the pixels through the lens found last, at most; a look that could explain less than this more is not worth its cost. */
const LOOKS = 3
const WORTH_IT = 1

/**
 * Reads a chart through the lens that bent it, where its bend is evident and a lens explains it whose axis meets the still in its middle. Null where the chart is
 * flat enough, or bent in another way. A fit in a flat view already begins with that view's lens.
 */
export function readThroughOwnLens(
  image: GreyImage,
  plain: { readonly fit: ChartDraft; readonly bend: ChartBend },
  face: number,
  still: StillFrame,
  options: FitOptions,
): OwnLens | null {
  let { fit, bend } = plain
  let lens: LensFromBend | null = null
  for (let look = 0; look < LOOKS; look += 1) {
    const middle = middleOf(fit)
    const begin = fit.view === null ? undefined : placeOfLens(fit.view.lens, still)
    const next: LensFromBend | null = lensFromBend(
      { ...fit, places: viewPlaces(fit.view) },
      middle,
      bend,
      still,
      begin,
    )
    if (next === null) return null
    if (plain.fit.view === null && lens === null && next.without - next.left < LEAST_EXPLAINED) return null
    if (lens !== null && next.without - next.left < WORTH_IT) break
    lens = next
    const through = inView({ lens: next.lens, middle }, fit)
    const seen = through === null ? null : chartBend(image, through, face)
    if (through === null || seen === null) return null
    fit = { ...through, corners: seen.flatCorners, map: boxTo(FRAME, seen.flatCorners) }
    bend = seen
  }
  if (lens === null || fit.view === null) return null
  if (bend.evidence > MOST_LEFT * Math.max(1, bend.noise)) return null
  const again = fitChart(image, fit, options)
  if (!again.ok) return null
  // The view is as large as the still at its own middle: it is laid where the chart's was found.
  const centred = inView({ lens: fit.view.lens, middle: middleOf(again.value) }, again.value)
  if (centred === null) return null
  return { fit: centred, bend, lensCovariancePx2: cornerCovariance(again.value, bend, lens) }
}

/** The chart's middle in the still. */
function middleOf(fit: ChartDraft): Point {
  const [x, y] = mapPoint(fit.map, FIELD.width / 2, FIELD.height / 2)
  return viewPlaces(fit.view)?.toStill(x, y) ?? [x, y]
}

function placeOfLens(lens: CameraLens, still: StillFrame): readonly [number, number] {
  return [cubicOfP(lens.p), Math.log(lens.pixelsPerRadian / still.halfDiagonalPx)]
}

/** A fit with its corners in another view. */
function inView<Chart extends ChartDraft>(view: FlatView, fit: Chart): Chart | null {
  const [from, to] = [viewPlaces(fit.view), flatPlaces(view)]
  const corners = fit.corners.map(([x, y]) => {
    const seen = from === null ? ([x, y] as const) : from.toStill(x, y)
    return seen === null ? null : (to?.toFlat(seen[0], seen[1]) ?? null)
  })
  if (corners.includes(null)) return null
  const quad = corners as unknown as Quad
  return { ...fit, view, corners: quad, map: boxTo(FRAME, quad) }
}

/** How the flat corners follow what is unknown of the lens: it bends the chart, and the plane fitted to it with it. */
function cornerCovariance(fit: ChartDraft, bend: ChartBend, lens: LensFromBend): number[][] {
  const column = (which: 0 | 1) =>
    cornerMoves(
      fit,
      bend,
      Float64Array.from({ length: BEND_TERMS }, (_, k) => lens.slopes[2 * k + which]!),
    )
  const [byQ, byF] = [column(0), column(1)]
  const straight = bendThroughLens(
    { ...fit, places: viewPlaces(fit.view) },
    { ...lens.lens, p: 1 },
    middleOf(fit),
  )
  const whole = straight === null ? byQ.map(() => 0) : cornerMoves(fit, bend, straight)
  const [qq, qf, , ff] = lens.covariance as unknown as [number, number, number, number]
  return byQ.map((_, i) =>
    byQ.map(
      (__, j) =>
        byQ[i]! * byQ[j]! * qq +
        (byQ[i]! * byF[j]! + byF[i]! * byQ[j]!) * qf +
        byF[i]! * byF[j]! * ff +
        FAMILY_REL ** 2 * whole[i]! * whole[j]!,
    ),
  )
}

/** Where the corners x1, y1 ... y4 of the fitted plane go, px, when the chart is bent by these terms. */
function cornerMoves(fit: ChartDraft, bend: ChartBend, by: Float64Array): number[] {
  const back = inverseHomography(fit.map)!
  const terms = new Float64Array(2 * (PLANE_TERMS + BEND_TERMS))
  const plane = new Float64Array(PLANE_TERMS)
  for (let i = 0; i < PLANE_TERMS; i += 1)
    for (let k = 0; k < BEND_TERMS; k += 1) plane[i]! += bend.link[i * BEND_TERMS + k]! * by[k]!
  const step = 1e-3
  return fit.corners.flatMap(([x, y]) => {
    const [u, v] = placeOf(back, x, y)
    writeTerms(u, v, terms)
    let [du, dv] = [0, 0]
    for (let i = 0; i < PLANE_TERMS; i += 1) {
      du += plane[i]! * terms[2 * i]!
      dv += plane[i]! * terms[2 * i + 1]!
    }
    const [a, b] = pixelOf(fit.map, u + step * du, v + step * dv)
    return [(a - x) / step, (b - y) / step]
  })
}
