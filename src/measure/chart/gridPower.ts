/** Fewer pixels of even paper tell nothing. */
export const LEAST_PIXELS = 200
/** Values over so many median ones stand out (a normal's 4 deviations); more than this share of them is no even paper. */
export const MOST_OFF = 6
/** Frequencies along each side, over 0 to 0.5 (across) and -0.5 to 0.5 (down) cycles/px. */
export const STEPS = 48
/** Coarser patterns than this are light and dirt, cycles/px. */
export const LEAST_FREQUENCY = 0.15
/** JPEG's blocks repeat every 8 px: their own frequencies are passed over within so much, cycles/px. */
const BLOCK_REACH = 0.012
/** A screen has lines both ways; bands of a sensor run one way. */
export const LEAST_CROSSING_RAD = Math.PI / 3

/** Power at a frequency, cycles/px. */
export interface Line {
  readonly fx: number
  readonly fy: number
  readonly power: number
}

/** The power of a square of values at frequencies over half the plane; first along rows, then down. */
export function powerOf({ side, values }: { readonly side: number; readonly values: Float64Array }): Line[] {
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

export function isOfBlocks(fx: number, fy: number): boolean {
  const off = (f: number): number => Math.abs(8 * f - Math.round(8 * f)) / 8
  return off(fx) < BLOCK_REACH && off(fy) < BLOCK_REACH
}

/** Angle between two directions of frequency, 0 to half pi. */
export function crossing(a: Line, b: Line): number {
  const cos = Math.abs(a.fx * b.fx + a.fy * b.fy) / (Math.hypot(a.fx, a.fy) * Math.hypot(b.fx, b.fy))
  return Math.acos(Math.min(1, cos))
}
