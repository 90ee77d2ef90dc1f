import { Matrix, solve } from 'ml-matrix'
import { chartFace, FRAME, stripAreas, type ModuleBox } from '../../chart/printed/chartGeometry.js'
import { LINE_PERIODS_M } from '../../chart/printed/fineLines.js'
import type { GreyImage } from '../../chart/match/greyImage.js'
import { inverseHomography, jacobianAt, mapPoint, type Homography } from '../../math/homography.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import { codeFromLinear, linearFromCode } from '../../math/srgb.js'
import { measureSays } from '../sentences.js'

/** The chart's five levels from ink to paper. */
export interface ToneStrip {
  /** Mean code values, and the light there as a share of the way from ink to paper: 0, some 0.25, 0.5, 0.75, 1. */
  readonly codes: readonly [number, number, number, number, number]
  readonly lights: readonly [number, number, number, number, number]
  /** Light that spread ink takes from the longer lines, of paper's; 0 where it is not told. */
  readonly spread: number
  /** Linear light of a code value, 0 ink to 1 paper: monotone through the five levels, straight on beyond them. */
  toLight(code: number): number
}

export type NoToneStrip = 'too-small' | 'lines-resolved' | 'not-monotone'

/** Periods that differ by more than this are no spread of ink but moire, glare or dirt, code values: this project's convention. */
const MOST_SPREAD_DN = 12
/** Left free at the border of an area, modules. */
const INSET = 0.35
const LEAST_PIXELS_PER_MODULE = 5
/** How well a level is read, and how large the last term of a curve may well be, code values: this project's convention. */
const LEVEL_DN = 0.5
const LAST_TERM_DN = 30
/** Places at which a curve's rise is checked. */
const SLOPES_LOOKED_AT = 64
/** Lines of a longer period than this may be seen by the camera, px: measurement trials. */
const MOST_PERIOD_PX = 1.5

/**
 * The camera's tone curve from the chart's own strip of fine lines. Fails where the chart is too small (blur reaches into the areas), so near
 * that even the short period may be resolved, and where the levels are not in order (glare, a half in shadow). `module` in metres.
 */
export function toneStrip(
  image: GreyImage,
  map: Homography,
  face: number,
  module: number,
): Outcome<ToneStrip, NoToneStrip> {
  const { alongX, alongY } = jacobianAt(map, 7, 5)
  const pixelsPerModule = Math.min(Math.hypot(...alongX), Math.hypot(...alongY))
  if (pixelsPerModule < LEAST_PIXELS_PER_MODULE) return failure(measureSays['tones-too-small']())
  const periodsPx = LINE_PERIODS_M.map(
    (period) => (period / module) * Math.max(Math.hypot(...alongX), Math.hypot(...alongY)),
  )
  if (periodsPx[0]! > MOST_PERIOD_PX) return failure(measureSays['lines-resolved']())
  const longToo = periodsPx[1]! <= MOST_PERIOD_PX
  const strip = [...stripAreas(chartFace(face))].sort((one, other) => other.coverage - one.coverage)
  const areas = strip.map(({ box }) => {
    const middle = (box.left + box.right) / 2
    const short = meanIn(image, map, { ...box, right: middle })
    return { short, long: longToo ? meanIn(image, map, { ...box, left: middle }) : null }
  })
  const spreadOut = areas.some(
    ({ short, long }) => Math.abs((long ?? short).mean - short.mean) > MOST_SPREAD_DN,
  )
  if (spreadOut) return failure(measureSays['line-widths-differ']())
  const [black, dark, mid, light, white] = [
    meanOf(image, map, INK_BOXES),
    ...areas.map(({ short, long }) => (long === null ? short.mean : (short.mean + long.mean) / 2)),
    meanOf(image, map, PAPER_BOXES),
  ] as [number, number, number, number, number]
  const codes = [black, dark, mid, light, white] as const
  for (let k = 0; k < 4; k += 1)
    if (!(codes[k + 1]! > codes[k]! + 1)) return failure(measureSays['levels-out-of-order']())
  const spread = longToo ? inkSpread(areas as readonly LineMeans[], codes) : 0
  const lights = [0, 0.25 - 1.5 * spread, 0.5 - 1.5 * spread, 0.75 - 1.5 * spread, 1] as const
  // Drawn from codes to the codes sRGB would give for that light, a camera's curve is nearly straight, so that little is left to be guessed between the levels.
  const [least, most] = [linearFromCode(black), linearFromCode(white)]
  const usual = lights.map((light) => codeFromLinear(least + light * (most - least)))
  const curve = cubicThroughFive(codes, usual) ?? monotoneCubic(codes, usual)
  return success({
    codes,
    lights,
    spread,
    toLight: (code) => (lightOf(curve(code)) - least) / (most - least),
  })
}

/** Linear light of a code that a curve gave, straight on beyond black and white. */
function lightOf(code: number): number {
  if (code < 0) return linearFromCode(1) * code
  return code <= 255 ? linearFromCode(code) : 1 + (code - 255) * (linearFromCode(255) - linearFromCode(254))
}

/**
 * The cubic spline through five points whose third derivative does not jump at the second and the fourth ("not a knot"; C. de Boor, A Practical Guide to Splines, chapter IV), straight on beyond its
 * ends: two cubics that meet in the middle point. Null where it does not rise throughout.
 */
function cubicThroughFive(x: readonly number[], y: readonly number[]): ((at: number) => number) | null {
  const middle = x[2]!
  const span = x[4]! - x[0]!
  // a + b t + c t^2 + d t^3, and e t^3 more beyond the middle, t counted from there.
  const rows = x.map((at) => {
    const t = (at - middle) / span
    return [1, t, t * t, t * t * t, t > 0 ? t * t * t : 0]
  })
  // Levels are read to half a code or so: where the last term says no more than that, it stays small.
  const held = new Matrix([...rows, [0, 0, 0, 0, LEVEL_DN / LAST_TERM_DN]])
  const solved = solve(held, Matrix.columnVector([...y, 0])).to1DArray()
  const [a, b, c, d, e] = solved as [number, number, number, number, number]
  const value = (t: number): number => a + t * (b + t * (c + t * (d + (t > 0 ? e : 0))))
  const slope = (t: number): number => b + t * (2 * c + 3 * t * (d + (t > 0 ? e : 0)))
  const [first, last] = [(x[0]! - middle) / span, (x[4]! - middle) / span]
  for (let k = 0; k <= SLOPES_LOOKED_AT; k += 1)
    if (!(slope(first + (k / SLOPES_LOOKED_AT) * (last - first)) > 0)) return null
  return (at) => {
    const t = (at - middle) / span
    const inside = Math.min(last, Math.max(first, t))
    return value(inside) + slope(inside) * (t - inside)
  }
}

/** Where ink and paper are read: the frame's upper and lower bars, the paper above and below them. */
const INK_BOXES: readonly ModuleBox[] = [
  { left: FRAME.left, right: FRAME.right, top: 1.2, bottom: 2.4 },
  { left: FRAME.left, right: FRAME.right, top: 7.6, bottom: 8.8 },
]
const PAPER_BOXES: readonly ModuleBox[] = [
  { left: 0.4, right: 13.6, top: 0.4, bottom: 1.2 },
  { left: 0.4, right: 13.6, top: 8.8, bottom: 9.6 },
]

interface LineMeans {
  readonly short: AreaMean
  readonly long: AreaMean
}

/**
 * How much light the long lines lose to spread ink, a share of paper's. Ink that spreads by a fixed width takes g from the long lines and 2 g
 * from the short ones, half as far apart, whatever their coverage: g is the mean difference of the three areas, shrunk by its own uncertainty
 * (W. James and C. Stein, 4th Berkeley Symposium 1 (1961) 361). The mean of both lies 1.5 g under the coverage.
 */
function inkSpread(areas: readonly LineMeans[], codes: readonly number[]): number {
  let [sum, weights] = [0, 0]
  areas.forEach(({ short, long }, k) => {
    const perCode = 0.5 / (codes[k + 2]! - codes[k]!)
    const weight = 1 / (perCode * Math.max(0.05, Math.hypot(short.u, long.u))) ** 2
    sum += weight * perCode * (long.mean - short.mean)
    weights += weight
  })
  const spread = sum / weights
  return spread * Math.max(0, 1 - 1 / (weights * spread ** 2))
}

function meanOf(image: GreyImage, map: Homography, boxes: readonly ModuleBox[]): number {
  return boxes.reduce((sum, box) => sum + meanIn(image, map, box).mean, 0) / boxes.length
}

/** A mean code value and its standard uncertainty by the pixels' scatter. */
interface AreaMean {
  readonly mean: number
  readonly u: number
}

/** Mean of the pixels whose centres lie in a box, the inset left free. */
function meanIn(image: GreyImage, map: Homography, box: ModuleBox): AreaMean {
  const back = inverseHomography(map)
  if (back === null) return { mean: NaN, u: NaN }
  const insetX = Math.min(INSET, (box.right - box.left) / 4)
  const insetY = Math.min(INSET, (box.bottom - box.top) / 3)
  const xs: number[] = []
  const ys: number[] = []
  for (const u of [box.left, box.right])
    for (const v of [box.top, box.bottom]) {
      const [x, y] = mapPoint(map, u, v)
      xs.push(x)
      ys.push(y)
    }
  const inside = {
    left: box.left + insetX,
    right: box.right - insetX,
    top: box.top + insetY,
    bottom: box.bottom - insetY,
  }
  const first = Math.max(0, Math.floor(Math.min(...xs)))
  const end = Math.min(image.width, Math.ceil(Math.max(...xs)))
  const sums = { sum: 0, squares: 0, count: 0 }
  for (let j = Math.max(0, Math.floor(Math.min(...ys))); j < Math.min(image.height, Math.max(...ys)); j += 1)
    addRow(image, back, inside, j, first, end, sums)
  const { sum, squares, count } = sums
  const mean = sum / count
  return { mean, u: Math.sqrt(Math.max(0, squares / count - mean ** 2) / count) }
}

/** Adds the pixels `first` to `end` of a row whose centres lie in a box. */
function addRow(
  { width, data }: GreyImage,
  back: Homography,
  { left, right, top, bottom }: ModuleBox,
  row: number,
  first: number,
  end: number,
  into: { sum: number; squares: number; count: number },
): void {
  const y = row + 0.5
  for (let i = first; i < end; i += 1) {
    const x = i + 0.5
    const w = back[6]! * x + back[7]! * y + back[8]!
    const u = (back[0]! * x + back[1]! * y + back[2]!) / w
    const v = (back[3]! * x + back[4]! * y + back[5]!) / w
    if (u < left || u > right || v < top || v > bottom) continue
    const code = data[row * width + i]!
    into.sum += code
    into.squares += code * code
    into.count += 1
  }
}

/** Monotone piecewise cubic through points (F. Fritsch and R. Carlson, SIAM J. Numer. Anal. 17 (1980) 238), straight beyond its ends. */
function monotoneCubic(x: readonly number[], y: readonly number[]): (at: number) => number {
  const n = x.length
  const secant = Array.from({ length: n - 1 }, (_, k) => (y[k + 1]! - y[k]!) / (x[k + 1]! - x[k]!))
  const slope = Array.from({ length: n }, (_, k) => {
    if (k === 0) return endSlope(x[1]! - x[0]!, x[2]! - x[1]!, secant[0]!, secant[1]!)
    if (k === n - 1)
      return endSlope(x[n - 1]! - x[n - 2]!, x[n - 2]! - x[n - 3]!, secant[n - 2]!, secant[n - 3]!)
    const [h0, h1] = [x[k]! - x[k - 1]!, x[k + 1]! - x[k]!]
    const [w0, w1] = [2 * h1 + h0, h1 + 2 * h0]
    return (w0 + w1) / (w0 / secant[k - 1]! + w1 / secant[k]!)
  })
  return (at) => {
    if (at <= x[0]!) return y[0]! + slope[0]! * (at - x[0]!)
    if (at >= x[n - 1]!) return y[n - 1]! + slope[n - 1]! * (at - x[n - 1]!)
    let k = 0
    while (at > x[k + 1]!) k += 1
    const h = x[k + 1]! - x[k]!
    const t = (at - x[k]!) / h
    return (
      y[k]! * (1 + 2 * t) * (1 - t) ** 2 +
      slope[k]! * h * t * (1 - t) ** 2 +
      y[k + 1]! * t * t * (3 - 2 * t) +
      slope[k + 1]! * h * t * t * (t - 1)
    )
  }
}

/** Three-point end slope that keeps the curve monotone. */
function endSlope(h0: number, h1: number, s0: number, s1: number): number {
  const slope = ((2 * h0 + h1) * s0 - h0 * s1) / (h0 + h1)
  return Math.min(3 * s0, Math.max(0, slope))
}
