import { choleskySolve } from '../../math/cholesky.js'

/** Noise over even ground: variance of a pixel (code values squared), and how it hangs together along rows and columns. */
export interface GroundNoise {
  readonly variance: number
  /** Correlation with the pixel 0, 1, 2, ... px on; as far as it stands out from chance. */
  readonly across: readonly number[]
  readonly down: readonly number[]
  /** Pixels it was read from. */
  readonly pixels: number
}

/** Neighbours farther apart are taken to share nothing: a block of JPEG. */
const FARTHEST_PX = 8
/** A correlation stands out from chance from so many of its standard deviations on. This project's convention. */
const STANDS_OUT = 2.5
/** Fewer pixels of a class tell no slope, and fewer no bow, of the light that falls there. */
const SLOPE_PIXELS = 12
const BOW_PIXELS = 60

/** The noise of the pixels where `mask` is 1, about a ground that may slope and bow, per class of `labels` (1, 2); null where there are under two. */
export function groundNoise(
  data: Float32Array,
  mask: Uint8Array,
  labels: Uint8Array,
  width: number,
  height: number,
): GroundNoise | null {
  const residual = new Float32Array(data.length)
  let [squares, dof, pixels] = [0, 0, 0]
  for (const label of [1, 2]) {
    const ground = levelGround(data, (at) => mask[at] === 1 && labels[at] === label, residual, width, height)
    squares += ground.squares
    dof += ground.dof
    pixels += ground.pixels
  }
  if (dof < 1) return null
  const variance = squares / dof
  const along = (step: number, isInLine: (at: number, lag: number) => boolean): number[] => {
    const correlation = [1]
    for (let lag = 1; lag <= FARTHEST_PX && variance > 0; lag += 1) {
      let [pairs, product] = [0, 0]
      for (let at = 0; at + lag * step < data.length; at += 1) {
        const other = at + lag * step
        if (mask[at] !== 1 || mask[other] !== 1 || labels[at] !== labels[other] || !isInLine(at, lag))
          continue
        pairs += 1
        product += residual[at]! * residual[other]!
      }
      const share = pairs === 0 ? 0 : product / pairs / variance
      if (!(Math.abs(share) * Math.sqrt(pairs) > STANDS_OUT)) break
      correlation.push(Math.max(-1, Math.min(1, share)))
    }
    return correlation
  }
  return {
    variance,
    across: along(1, (at, lag) => (at % width) + lag < width),
    down: along(width, () => true),
    pixels,
  }
}

/** Writes what is left of the pixels of one class over their even, sloping or bowing ground. */
function levelGround(
  data: Float32Array,
  isOfClass: (at: number) => boolean,
  residual: Float32Array,
  width: number,
  height: number,
): { readonly squares: number; readonly dof: number; readonly pixels: number } {
  const places: number[] = []
  for (let at = 0; at < data.length; at += 1) if (isOfClass(at)) places.push(at)
  const pixels = places.length
  if (pixels === 0) return { squares: 0, dof: 0, pixels }
  const row = new Float64Array(6)
  const write = (at: number): void => {
    const [x, y] = [(2 * (at % width)) / width - 1, (2 * Math.floor(at / width)) / height - 1]
    row[0] = 1
    row[1] = x
    row[2] = y
    row[3] = x * x
    row[4] = x * y
    row[5] = y * y
  }
  let size = pixels >= BOW_PIXELS ? 6 : pixels >= SLOPE_PIXELS ? 3 : 1
  let terms = new Float64Array(size)
  for (; size >= 1; size = size === 6 ? 3 : size === 3 ? 1 : 0) {
    const matrix = new Float64Array(size * size)
    const right = new Float64Array(size)
    for (const at of places) {
      write(at)
      for (let i = 0; i < size; i += 1) {
        right[i]! += row[i]! * data[at]!
        for (let j = 0; j < size; j += 1) matrix[i * size + j]! += row[i]! * row[j]!
      }
    }
    terms = new Float64Array(size)
    if (choleskySolve(matrix, right, terms)) break
  }
  let squares = 0
  for (const at of places) {
    write(at)
    let ground = 0
    for (let i = 0; i < terms.length; i += 1) ground += terms[i]! * row[i]!
    const left = data[at]! - ground
    residual[at] = left
    squares += left * left
  }
  return { squares, dof: Math.max(0, pixels - terms.length), pixels }
}
