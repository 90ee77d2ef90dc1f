import { boxSum, boxSums, type BoxSums } from './boxSums.js'
import { quietestNoise, secondDifferenceNoise } from './noise.js'
import { WHITE_CODE } from './toneLevels.js'
import { twoClassSplit } from './twoClassSplit.js'

/** A cut of a still around a reference: code values and how deep each pixel lies inside the outline, px. */
export interface ReferenceCut {
  readonly width: number
  readonly height: number
  readonly data: Float32Array
  readonly depth: Float32Array
  /** Height of the reference in the still, px, its shorter side. */
  readonly shortSidePx: number
  /** Two blur widths, px: how far an area keeps from a border. */
  readonly clearPx: number
}

/** The areas levels are taken from. `labels`: 1 and 2 are the classes, 0 neither. */
export interface ToneAreas {
  readonly labels: Uint8Array
  /** The areas that count as even: the classes where the split parts more than noise, else the reference as one. */
  readonly even: Uint8Array
  /** 1 where a pixel of the reference lies clear of every border. */
  readonly quiet: Uint8Array
  readonly quietSums: BoxSums
  /** Standard deviation of a pixel, code values; `bound` where no area lies clear of strokes, so that strokes are in it. */
  readonly noise: number
  readonly noiseKind: 'measured' | 'bound'
  /** Whether the split parts more than noise. */
  readonly parted: boolean
  /** The mean difference that a split of this noise alone would show, code values; 0 where the noise is only bounded. */
  readonly splitBiasCode: number
}

/** A plate is smoothed over this share of its height before the split: a little less than a stroke. This project's convention. */
const SMOOTHED_SHARE = 1 / 9
/** A split of white noise alone parts means by 2 sqrt(2/pi) = 1.596 of its standard deviations; this many are needed to call it two classes. */
const SPLIT_OF_NOISE = 2 * Math.sqrt(2 / Math.PI)
const LEAST_PARTING = 3
const MOST_VALUES = 60000

/** Strokes (2) and ground (1) of a plate, by a two-class split of its smoothed code values; null where the plate has too few pixels. */
export function characterAreas(cut: ReferenceCut): ToneAreas | null {
  const { width, height, data, depth } = cut
  const inset = Math.min(cut.clearPx + 1, 0.3 * cut.shortSidePx)
  const inside = new Uint8Array(depth.length)
  for (let at = 0; at < depth.length; at += 1) if (depth[at]! > inset) inside[at] = 1
  const half = Math.max(0, Math.round((cut.shortSidePx * SMOOTHED_SHARE - 1) / 2))
  const side = 2 * half + 1
  const smooth = smoothed(data, width, height, half)
  const values = insideOnly(smooth, inside)
  const split = values.length < 12 ? null : twoClassSplit(values)
  const whole = quietestNoise(data, inside, width, height)
  if (whole === null) return null
  // Two classes that both lie at white are one: what parts them is the ringing of the compression.
  const parted =
    split !== null && split.dim < WHITE_CODE && split.bright - split.dim > (LEAST_PARTING * whole) / side
  const labels = new Uint8Array(inside.length)
  for (let at = 0; at < labels.length; at += 1) {
    if (inside[at] === 1) labels[at] = split === null || smooth[at]! >= split.threshold ? 1 : 2
  }
  // Where nothing is parted, the plate is one even area.
  const even = parted ? labels : inside
  const quiet = clearOfBorders(even, width, height, Math.ceil(cut.clearPx))
  const measured = secondDifferenceNoise(data, quiet, width, height)
  return {
    labels,
    even,
    quiet,
    quietSums: boxSums(quiet, width, height),
    noise: measured ?? whole,
    noiseKind: measured === null ? 'bound' : 'measured',
    parted,
    splitBiasCode: measured === null ? 0 : (SPLIT_OF_NOISE * Math.min(whole, measured)) / side,
  }
}

/** An even board (1) against its surround (2), a ring as wide as a quarter of the board within 4 to 12 px; null where either has too few pixels. */
export function boardAreas(cut: ReferenceCut): ToneAreas | null {
  const { width, height, data, depth } = cut
  const inset = Math.min(cut.clearPx + 1, 0.3 * cut.shortSidePx)
  const ring = Math.max(4, Math.min(12, cut.shortSidePx / 4))
  const labels = new Uint8Array(depth.length)
  const quiet = new Uint8Array(depth.length)
  let surround = 0
  for (let at = 0; at < depth.length; at += 1) {
    const beyond = -depth[at]! - cut.clearPx - 1
    if (depth[at]! > inset) labels[at] = quiet[at] = 1
    else if (beyond > 0 && beyond < ring) {
      labels[at] = 2
      surround += 1
    }
  }
  const noise = secondDifferenceNoise(data, quiet, width, height)
  if (noise === null || surround < 12) return null
  const quietSums = boxSums(quiet, width, height)
  return {
    labels,
    even: labels,
    quiet,
    quietSums,
    noise,
    noiseKind: 'measured',
    parted: true,
    splitBiasCode: 0,
  }
}

/** The values where `inside` is 1; of a large picture every few of them. */
function insideOnly(values: Float32Array, inside: Uint8Array): Float32Array {
  const every = Math.max(1, Math.floor(values.length / MOST_VALUES))
  const kept = new Float32Array(Math.ceil(values.length / every))
  let count = 0
  for (let at = 0; at < values.length; at += every) if (inside[at] === 1) kept[count++] = values[at]!
  return kept.subarray(0, count)
}

/** Means over squares of 2 half + 1 pixels, cut off at the picture's border. */
function smoothed(data: Float32Array, width: number, height: number, half: number): Float32Array {
  if (half === 0) return data
  const sums = boxSums(data, width, height)
  const smooth = new Float32Array(data.length)
  for (let j = 0; j < height; j += 1) {
    const [top, bottom] = [Math.max(0, j - half), Math.min(height, j + half + 1)]
    for (let i = 0; i < width; i += 1) {
      const [left, right] = [Math.max(0, i - half), Math.min(width, i + half + 1)]
      smooth[j * width + i] = boxSum(sums, left, top, right, bottom) / ((right - left) * (bottom - top))
    }
  }
  return smooth
}

/** 1 where all pixels up to `clear` away, along rows and columns, are of the pixel's own class and of some class at all. */
export function clearOfBorders(labels: Uint8Array, width: number, height: number, clear: number): Uint8Array {
  const sums = boxSums(labels, width, height)
  const first = boxSums(
    labels.map((label) => (label === 1 ? 1 : 0)),
    width,
    height,
  )
  const quiet = new Uint8Array(labels.length)
  const area = (2 * clear + 1) ** 2
  for (let j = clear; j + clear < height; j += 1) {
    for (let i = clear; i + clear < width; i += 1) {
      const label = labels[j * width + i]!
      if (label === 0) continue
      const box = [i - clear, j - clear, i + clear + 1, j + clear + 1] as const
      const ones = boxSum(first, ...box)
      if (label === 1 ? ones === area : ones === 0 && boxSum(sums, ...box) === 2 * area)
        quiet[j * width + i] = 1
    }
  }
  return quiet
}
