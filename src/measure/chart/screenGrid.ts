import {
  chartAreas,
  chartFace,
  FIELD,
  inkAt,
  LETTERED_EDGE,
  LIGHT_HALF,
} from '../../chart/printed/chartGeometry.js'
import type { ChartFit } from '../../chart/fit/chartFit.js'
import type { GreyImage } from '../../chart/match/greyImage.js'
import { inverseHomography, mapPoint } from '../../math/homography.js'
import {
  crossing,
  isOfBlocks,
  LEAST_CROSSING_RAD,
  LEAST_FREQUENCY,
  LEAST_PIXELS,
  MOST_OFF,
  powerOf,
} from './gridPower.js'
import { residualGridScore } from './residualGrid.js'

/** Pixels looked at, along each side. */
const SIDE_PX = 64
const MOST_STANDING_OUT = 0.01
// This project's convention: even noise reaches 12 times its mean power in some 5,000 frequencies about once in 30 stills, 25 times never.
const LEAST_PEAK = 25
const LEAST_AMPLITUDE_DN = 0.7
/** And in all the sheet's residuals by so much over the frequencies around: of 70 ordinary stills by day through JPEG the greatest reached 20.7. */
const LEAST_SCORE = 24

/**
 * Whether a fine regular grid lies over the even paper of a fitted chart, as a screen's pixels make it that was photographed: two peaks in the power
 * of the paper's code values, far over all others and across one another. False where there is too little paper to tell.
 */
export function hasScreenGrid(image: GreyImage, fit: ChartFit, face: number): boolean {
  return isPaperGrid(image, fit, face) || residualGridScore(image, fit, face) >= LEAST_SCORE
}

function isPaperGrid(image: GreyImage, fit: ChartFit, face: number): boolean {
  const paper = evenPaper(image, fit, face)
  if (paper === null) return false
  const lines = powerOf(paper).filter(({ fx, fy }) => !isOfBlocks(fx, fy))
  const mean = lines.reduce((sum, { power }) => sum + power, 0) / lines.length
  const coarse = lines.filter(({ fx, fy }) => Math.hypot(fx, fy) < LEAST_FREQUENCY)
  const least = Math.max(LEAST_PEAK * mean, ...coarse.map(({ power }) => power))
  const amplitude = (power: number): number => (2 * Math.sqrt(power)) / paper.count
  const high = lines.filter(
    ({ fx, fy, power }) =>
      Math.hypot(fx, fy) >= LEAST_FREQUENCY && power > least && amplitude(power) > LEAST_AMPLITUDE_DN,
  )
  return high.some((a) => high.some((b) => crossing(a, b) >= LEAST_CROSSING_RAD))
}

/** A square of code values of even paper less a plane through them, row by row, 0 where there is none. */
interface EvenPaper {
  readonly side: number
  readonly values: Float64Array
  readonly count: number
}

/** The light half's paper clear of every edge; null where there is little. */
function evenPaper(image: GreyImage, fit: ChartFit, face: number): EvenPaper | null {
  const back = inverseHomography(fit.map)
  if (back === null) return null
  const areas = chartAreas(chartFace(face))
  const middle = mapPoint(
    fit.map,
    (LIGHT_HALF.left + LIGHT_HALF.right) / 2,
    (LIGHT_HALF.top + LIGHT_HALF.bottom) / 2,
  )
  const [left, top] = middle.map((at) => Math.floor(at - SIDE_PX / 2)) as [number, number]
  const clear = 1 + 2.5 * fit.blurSigmaPx
  const isPaper = (px: number, py: number): boolean => {
    const [u, v] = mapPoint(back, px, py)
    if (!(u > LETTERED_EDGE && u < FIELD.width - LETTERED_EDGE)) return false
    return v > LETTERED_EDGE && v < FIELD.height - LETTERED_EDGE && inkAt(areas, u, v) < 0.01
  }
  const [x, y, codes]: [number[], number[], number[]] = [[], [], []]
  for (let j = Math.max(0, -top); j < Math.min(SIDE_PX, image.height - top); j += 1) {
    for (let i = Math.max(0, -left); i < Math.min(SIDE_PX, image.width - left); i += 1) {
      const [px, py] = [left + i + 0.5, top + j + 0.5]
      if (!isPaper(px, py) || !isPaper(px + clear, py) || !isPaper(px - clear, py)) continue
      if (!isPaper(px, py + clear) || !isPaper(px, py - clear)) continue
      x.push(i)
      y.push(j)
      codes.push(image.data[(top + j) * image.width + left + i]!)
    }
  }
  if (codes.length < LEAST_PIXELS) return null
  const even = withoutPlane(x, y, codes)
  if (!isEven(even)) return null
  const values = new Float64Array(SIDE_PX ** 2)
  even.forEach((value, at) => (values[y[at]! * SIDE_PX + x[at]!] = value))
  return { side: SIDE_PX, values, count: codes.length }
}

/** Whether hardly a value stands out from the others, as where a shadow or an edge runs through them. */
function isEven(values: readonly number[]): boolean {
  const sizes = values.map(Math.abs).sort((a, b) => a - b)
  const limit = MOST_OFF * (sizes[sizes.length >> 1] ?? 0) + 1
  return sizes.filter((size) => size > limit).length <= MOST_STANDING_OUT * sizes.length
}

/** Values less their least-squares plane. */
function withoutPlane(x: readonly number[], y: readonly number[], values: readonly number[]): number[] {
  const centred = (all: readonly number[]): number[] => {
    const mean = all.reduce((sum, value) => sum + value, 0) / all.length
    return all.map((value) => value - mean)
  }
  const product = (a: readonly number[], b: readonly number[]): number =>
    a.reduce((sum, value, at) => sum + value * b[at]!, 0)
  const [u, v, w] = [centred(x), centred(y), centred(values)]
  const [uu, uv, vv, uw, vw] = [product(u, u), product(u, v), product(v, v), product(u, w), product(v, w)]
  const span = uu * vv - uv * uv
  const [a, b] = [(vv * uw - uv * vw) / span, (uu * vw - uv * uw) / span]
  return w.map((value, at) => value - a * u[at]! - b * v[at]!)
}
