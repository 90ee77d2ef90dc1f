import type { Quad } from '../../math/point.js'
import type { ByteImage } from '../../still/searchBytes.js'
import { FRAME } from '../printed/chartGeometry.js'
import type { ChartTemplate } from '../match/template.js'
import { sampleThrough, withoutNoise, type MatchRoom } from '../match/matchChart.js'
import { writeBoxTo, type Homography } from '../../math/homography.js'

/** What a quad looks like as a chart's frame. */
export interface QuadGlance {
  /** Modules to pixels, the way up that agrees best. */
  readonly map: Homography
  readonly correlation: number
  /** The best agreement of any way up with the chart's mirror image. */
  readonly mirrored: number
}

/** A quad this much longer than broad is tried only as the frame lying along it: the edge of a wide lens makes the chart up to 1.5 times higher than wide. */
const CLEAR_ASPECT = 1.9
/** Share of the contrast between paper and ink by which frame and quiet paper differ at the least, blurred or noisy. */
const LEAST_RIM = 0.25
/** Points of the glance beyond the frame's inner edge, one a module, and the least agreement of those within: leaving out those under 0.6 lost none of 342 simulated charts. */
const INNER_COLUMNS = 2
const INNER_ROWS = 2
const LEAST_INSIDE_FRAME = 0.45
/** Middle of the frame's band, and as far beyond its outer edge, as shares of its width and height. */
const INSIDE = 0.06
const BESIDE = 0.08

/**
 * A quad (clockwise as seen) tried as the frame from each of its corners, and mirrored. The template's points lie evenly about the chart's
 * middle, so that one sampling serves a way up, the opposite one, and the mirror images of both. Null where it agrees less than `least` every way, or is of less contrast
 * between paper and ink than `leastGain` code values.
 */
export function glanceQuad(
  image: ByteImage,
  quad: Quad,
  template: ChartTemplate,
  room: MatchRoom,
  noiseVariance: number,
  leastGain: number,
  least: number,
): QuadGlance | null {
  if (rimContrast(image, quad) < LEAST_RIM * leastGain) return null
  const [a, b, c, d] = quad
  const aspect = (distance(a, b) + distance(c, d)) / (distance(b, c) + distance(d, a))
  let best: QuadGlance | null = null
  for (let turn = aspect < 1 / CLEAR_ASPECT ? 1 : 0; turn < (aspect > CLEAR_ASPECT ? 1 : 2); turn += 1) {
    if (turn === 0) writeBoxTo(FRAME, a, b, c, d, room.increment)
    else writeBoxTo(FRAME, b, c, d, a, room.increment)
    sampleThrough(image, room.increment, template, room.samples)
    takeOutsideForPaper(room.samples, template.count)
    const seen = fourWays(room.samples, template, noiseVariance, leastGain, least)
    if (seen === null) continue
    const correlation = Math.max(seen.upright, seen.turned)
    const mirrored: number = Math.max(seen.mirrored, best === null ? -1 : best.mirrored)
    if (best !== null && best.correlation >= correlation) {
      best = { map: best.map, correlation: best.correlation, mirrored }
      continue
    }
    const map = room.increment.slice()
    if (seen.turned > seen.upright) {
      if (turn === 0) writeBoxTo(FRAME, c, d, a, b, map)
      else writeBoxTo(FRAME, d, a, b, c, map)
    }
    best = { map, correlation, mirrored }
  }
  return best
}

function distance(p: Quad[0], q: Quad[0]): number {
  const x = p[0] - q[0]
  const y = p[1] - q[1]
  return Math.sqrt(x * x + y * y)
}

/** How much lighter it is a little outside the quad's sides than a little inside, code values: the mean of three points a side. */
function rimContrast(image: ByteImage, quad: Quad): number {
  const { width, height, data } = image
  let sum = 0
  for (let side = 0; side < 4; side += 1) {
    const p = quad[side]!
    const q = quad[(side + 1) & 3]!
    const before = quad[(side + 3) & 3]!
    const after = quad[(side + 2) & 3]!
    for (let step = 1; step <= 3; step += 1) {
      const along = step / 4
      const x = p[0] + along * (q[0] - p[0])
      const y = p[1] + along * (q[1] - p[1])
      // From the side towards the opposite one.
      const acrossX = before[0] + along * (after[0] - before[0]) - x
      const acrossY = before[1] + along * (after[1] - before[1]) - y
      const insideX = (x + INSIDE * acrossX) | 0
      const insideY = (y + INSIDE * acrossY) | 0
      const besideX = Math.floor(x - BESIDE * acrossX)
      const besideY = Math.floor(y - BESIDE * acrossY)
      if (besideX < 0 || besideY < 0 || besideX >= width || besideY >= height) continue
      if (insideX < 0 || insideY < 0 || insideX >= width || insideY >= height) continue
      sum += data[besideY * width + besideX]! - data[insideY * width + insideX]!
    }
  }
  return sum / 12
}

/** Samples outside the picture, as of a sheet whose margin the picture's edge cuts, become as light as the lightest. */
function takeOutsideForPaper(samples: Float64Array, count: number): void {
  let lightest = -Infinity
  for (let at = 0; at < count; at += 1) if (samples[at]! > lightest) lightest = samples[at]!
  for (let at = 0; at < count; at += 1) if (Number.isNaN(samples[at]!)) samples[at] = lightest
}

/** How samples agree with a template and its images turned by half, flipped left to right, and flipped upside down. */
interface FourWays {
  readonly upright: number
  readonly turned: number
  readonly mirrored: number
}

/** Null where nothing is to be seen: samples outside the picture, or less contrast than `leastGain` every way. */
function fourWays(
  samples: Float64Array,
  template: ChartTemplate,
  noiseVariance: number,
  leastGain: number,
  least: number,
): FourWays | null {
  const whole = agreeFourWays(samples, template, 0, 0, noiseVariance, leastGain)
  if (whole === null) return null
  if (Math.max(whole.upright, whole.turned, whole.mirrored) < least) return null
  // Inside the frame alone: a mere box in a box has nothing to show there.
  const inside = agreeFourWays(samples, template, INNER_COLUMNS, INNER_ROWS, noiseVariance, 0)
  if (inside === null) return null
  return {
    upright: inside.upright < LEAST_INSIDE_FRAME ? -1 : whole.upright,
    turned: inside.turned < LEAST_INSIDE_FRAME ? -1 : whole.turned,
    mirrored: inside.mirrored < LEAST_INSIDE_FRAME ? -1 : whole.mirrored,
  }
}

/** Correlations over the template's points but `offColumns` at either side and `offRows` at top and bottom. */
function agreeFourWays(
  samples: Float64Array,
  template: ChartTemplate,
  offColumns: number,
  offRows: number,
  noiseVariance: number,
  leastGain: number,
): FourWays | null {
  const { columns, rows, value } = template
  const count = (columns - 2 * offColumns) * (rows - 2 * offRows)
  let s = 0
  let ss = 0
  let t = 0
  let tt = 0
  let upright = 0
  let turned = 0
  let across = 0
  let down = 0
  for (let row = offRows; row < rows - offRows; row += 1) {
    let at = row * columns + offColumns
    let mirror = row * columns + columns - 1 - offColumns
    let below = (rows - 1 - row) * columns + offColumns
    let opposite = (rows - row) * columns - 1 - offColumns
    for (let column = offColumns; column < columns - offColumns; column += 1) {
      const sample = samples[at]!
      const expected = value[at]!
      s += sample
      ss += sample * sample
      t += expected
      tt += expected * expected
      upright += sample * expected
      turned += sample * value[opposite]!
      across += sample * value[mirror]!
      down += sample * value[below]!
      at += 1
      mirror -= 1
      below += 1
      opposite -= 1
    }
  }
  // A sample outside the picture makes all of them NaN.
  const variance = ss - (s * s) / count
  if (!(variance > 0)) return null
  const common = (s * t) / count
  const templateVariance = tt - (t * t) / count
  if (!(Math.max(upright, turned, across, down) - common > leastGain * templateVariance)) return null
  const scale = Math.sqrt(withoutNoise(variance, count * noiseVariance) * templateVariance)
  return {
    upright: (upright - common) / scale,
    turned: (turned - common) / scale,
    mirrored: (Math.max(across, down) - common) / scale,
  }
}
