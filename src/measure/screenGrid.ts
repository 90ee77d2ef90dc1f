import { chartAreas, chartFace, FIELD, inkAt, LETTERED_EDGE, LIGHT_HALF } from '../chart/chartGeometry.js'
import type { ChartFit } from '../chart/fitChart.js'
import type { GreyImage } from '../chart/greyImage.js'
import { invertMap, mapPoint } from '../chart/planeMap.js'

/** Pixels looked at, along each side. */
const SIDE_PX = 64
/** Fewer pixels of even paper tell nothing. */
const LEAST_PIXELS = 200
/** Values over so many median ones stand out (a normal's 4 deviations); more than this share of them is no even paper. */
const MOST_OFF = 6
const MOST_STANDING_OUT = 0.01
/** Frequencies along each side, over 0 to 0.5 (across) and -0.5 to 0.5 (down) cycles/px. */
const STEPS = 48
/** Coarser patterns than this are light and dirt, cycles/px. */
const LEAST_FREQUENCY = 0.15
/** JPEG's blocks repeat every 8 px: their own frequencies are passed over within so much, cycles/px. */
const BLOCK_REACH = 0.012
// This project's convention: even noise reaches 12 times its mean power in some 5,000 frequencies about once in 30 stills, 25 times never.
const LEAST_PEAK = 25
const LEAST_AMPLITUDE_DN = 0.7
/** A screen has lines both ways; bands of a sensor run one way. */
const LEAST_CROSSING_RAD = Math.PI / 3

/**
 * Whether a fine regular grid lies over the even paper of a fitted chart, as a screen's pixels make it that was photographed: two peaks in the power
 * of the paper's code values, far over all others and across one another. False where there is too little paper to tell.
 */
export function hasScreenGrid(image: GreyImage, fit: ChartFit, face: number): boolean {
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

/** Power at a frequency, cycles/px. */
interface Line {
  readonly fx: number
  readonly fy: number
  readonly power: number
}

/** The power of a square of values at frequencies over half the plane; first along rows, then down. */
function powerOf({ side, values }: EvenPaper): Line[] {
  const wave = (f: number, part: (phase: number) => number): Float64Array =>
    Float64Array.from({ length: side }, (_, at) => part(2 * Math.PI * f * at))
  const down = Array.from({ length: 2 * STEPS }, (_, j) => {
    const fy = (0.5 * (j + 0.5)) / STEPS - 0.5
    return { fy, cos: wave(fy, Math.cos), sin: wave(fy, Math.sin) }
  })
  const lines: Line[] = []
  const re = new Float64Array(side)
  const im = new Float64Array(side)
  for (let i = 0; i < STEPS; i += 1) {
    const fx = (0.5 * (i + 0.5)) / STEPS
    const [cos, sin] = [wave(fx, Math.cos), wave(fx, Math.sin)]
    for (let row = 0; row < side; row += 1) {
      let [a, b] = [0, 0]
      for (let at = 0; at < side; at += 1) {
        a += values[row * side + at]! * cos[at]!
        b += values[row * side + at]! * sin[at]!
      }
      re[row] = a
      im[row] = b
    }
    for (const { fy, cos: c, sin: s } of down) {
      let [a, b] = [0, 0]
      for (let row = 0; row < side; row += 1) {
        a += re[row]! * c[row]! - im[row]! * s[row]!
        b += re[row]! * s[row]! + im[row]! * c[row]!
      }
      lines.push({ fx, fy, power: a * a + b * b })
    }
  }
  return lines
}

function isOfBlocks(fx: number, fy: number): boolean {
  const off = (f: number): number => Math.abs(8 * f - Math.round(8 * f)) / 8
  return off(fx) < BLOCK_REACH && off(fy) < BLOCK_REACH
}

/** Angle between two directions of frequency, 0 to half pi. */
function crossing(a: Line, b: Line): number {
  const cos = Math.abs(a.fx * b.fx + a.fy * b.fy) / (Math.hypot(a.fx, a.fy) * Math.hypot(b.fx, b.fy))
  return Math.acos(Math.min(1, cos))
}

/** A square of code values of even paper less a plane through them, row by row, 0 where there is none. */
interface EvenPaper {
  readonly side: number
  readonly values: Float64Array
  readonly count: number
}

/** The light half's paper clear of every edge; null where there is little. */
function evenPaper(image: GreyImage, fit: ChartFit, face: number): EvenPaper | null {
  const back = invertMap(fit.map)
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
