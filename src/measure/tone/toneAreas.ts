import type { Raster } from '../../still/raster.js'
import { type BoxSums, boxSum } from './boxSums.js'
import { insideSpans } from './insideSpans.js'
import { groundNoise, type GroundNoise } from './groundNoise.js'
import { isPartRough, surroundU } from './partsOfBoard.js'
import { quietestNoise, secondDifferenceNoise } from './noise.js'
import type { SideLine } from '../edge/sideLine.js'
import { WHITE_CODE } from './clipping.js'
import { twoClassSplit } from './twoClassSplit.js'

/** A cut of a still around a reference: code values, their running sums and the reference's sides (image coordinates). */
export interface ReferenceCut extends Raster {
  readonly codes: BoxSums
  readonly lines: readonly SideLine[]
  /** Height of the reference in the still, px, its shorter side. */
  readonly shortSidePx: number
  /** Two blur widths, px: how far an area keeps from a border. */
  readonly clearPx: number
}

/** The areas levels are taken from. `labels`: 1 and 2 are the classes, 0 neither. */
export interface ToneAreas {
  readonly labels: Uint8Array
  /** 1 where a pixel lies clear of every border. */
  readonly quiet: Uint8Array
  /** Standard deviation of a pixel, code values; `bound` where no area lies clear of strokes, so that strokes are in it. */
  readonly noise: number
  readonly noiseKind: 'measured' | 'bound'
  /** The same noise as it hangs together from pixel to pixel. */
  readonly ground: GroundNoise
  /** Whether the split parts more than noise. */
  readonly parted: boolean
  /** Whether there is more on it than noise: with strokes so faint that no split parts them a reader may still read. */
  readonly isMarked: boolean
  /** The mean difference that a split of this noise alone would show, code values; 0 where the noise is only bounded. */
  readonly splitBiasCode: number
  /** Standard uncertainty of the surround's level by how it differs from side to side, code values; 0 where there is no surround. */
  readonly surroundU: number
  /** Whether a part of a board is so much rougher than another that it is no board there. */
  readonly isPartRough: boolean
}

/** A plate is smoothed over this share of its height before the split: a little less than a stroke. This project's convention. */
const SMOOTHED_SHARE = 1 / 9
/** A split of white noise alone parts means by 2 sqrt(2/pi) = 1.596 of its standard deviations; this many are needed to call it two classes. */
const SPLIT_OF_NOISE = 2 * Math.sqrt(2 / Math.PI)
const LEAST_PARTING = 3
const ENOUGH_VALUES = 10000

/** The ring a board's surround is told on is at most so wide, px. */
export const MOST_RING_PX = 12

/** Strokes (2) and ground (1) of a plate, by a two-class split of its smoothed code values; null where the plate has too few pixels. */
export function characterAreas(cut: ReferenceCut): ToneAreas | null {
  const { width, height, data } = cut
  const spans = insideSpans(cut.lines, cut, Math.min(cut.clearPx + 1, 0.3 * cut.shortSidePx))
  const inside = new Uint8Array(width * height)
  for (let j = 0; j < height; j += 1) inside.fill(1, j * width + spans[2 * j]!, j * width + spans[2 * j + 1]!)
  const half = Math.max(0, Math.round((cut.shortSidePx * SMOOTHED_SHARE - 1) / 2))
  const side = 2 * half + 1
  const smooth = half === 0 ? data : smoothed(cut, spans, half)
  const values = someInside(smooth, inside)
  const split = values.length < 12 ? null : twoClassSplit(values)
  const whole = quietestNoise(data, inside, width, height)
  if (whole === null) return null
  // Two classes that both lie at white are one: what parts them is the ringing of the compression.
  const parted =
    split !== null && split.dim < WHITE_CODE && split.bright - split.dim > (LEAST_PARTING * whole) / side
  const labels = inside.slice()
  const threshold = split?.threshold ?? -Infinity
  for (let at = 0; at < labels.length; at += 1)
    if (labels[at] === 1 && smooth[at]! < threshold) labels[at] = 2
  // Where nothing is parted, the plate is one even area.
  const even = parted ? labels : inside
  const quiet = clearOfBorders(even, width, height, Math.ceil(cut.clearPx))
  const measured = noiseClearOf(cut, even, parted)
  const noise = measured?.noise ?? whole
  return {
    labels,
    quiet,
    noise,
    noiseKind: measured === null ? 'bound' : 'measured',
    ground:
      measured?.ground ??
      whiteGround(
        noise,
        inside.reduce((sum, one) => sum + one, 0),
      ),
    parted,
    isMarked:
      parted || (split !== null && split.dim < WHITE_CODE && variesMoreThan(values, whole / side, side)),
    splitBiasCode: measured === null ? 0 : (SPLIT_OF_NOISE * Math.min(whole, noise)) / side,
    surroundU: 0,
    isPartRough: false,
  }
}

/** Standard deviations of chance beyond which a variance is more than noise. This project's convention. */
const MORE_THAN_CHANCE = 3

/** Whether means over squares of `side` px (of which as many are their own as fit side by side) vary more than noise lets them, code values. */
function variesMoreThan(values: Float32Array, noise: number, side: number): boolean {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length
  return variance > noise ** 2 * (1 + MORE_THAN_CHANCE * Math.sqrt((2 * side ** 2) / values.length))
}

/** An even board (1) against its surround (2), a ring as wide as a quarter of the board within 4 to 12 px; null where either has too few pixels. */
export function boardAreas(cut: ReferenceCut): ToneAreas | null {
  const { width, height } = cut
  const ring = Math.max(4, Math.min(MOST_RING_PX, cut.shortSidePx / 4))
  const outer = insideSpans(cut.lines, cut, -cut.clearPx - 1 - ring)
  const inner = insideSpans(cut.lines, cut, -cut.clearPx - 1)
  const own = insideSpans(cut.lines, cut, Math.min(cut.clearPx + 1, 0.3 * cut.shortSidePx))
  const labels = new Uint8Array(width * height)
  const board = new Uint8Array(width * height)
  let surround = 0
  for (let j = 0; j < height; j += 1) {
    const row = j * width
    labels.fill(2, row + outer[2 * j]!, row + outer[2 * j + 1]!)
    labels.fill(0, row + inner[2 * j]!, row + inner[2 * j + 1]!)
    labels.fill(1, row + own[2 * j]!, row + own[2 * j + 1]!)
    board.fill(1, row + own[2 * j]!, row + own[2 * j + 1]!)
    surround += outer[2 * j + 1]! - outer[2 * j]! - (inner[2 * j + 1]! - inner[2 * j]!)
  }
  // What else lies in the ring is no noise: the board alone tells it.
  const measured = noiseClearOf(cut, board, true) ?? noiseOf(cut, board, board)
  if (measured === null || surround < 12) return null
  const quiet = labels.map((label) => (label === 0 ? 0 : 1))
  return {
    labels,
    quiet,
    ...measured,
    noiseKind: 'measured',
    parted: true,
    isMarked: true,
    splitBiasCode: 0,
    surroundU: surroundU(cut, labels),
    isPartRough: isPartRough(cut, board),
  }
}

/** Noise is read so many blurs away from borders where there is room, and no nearer than so many: nearer by, their flanks would count as noise. This project's convention. */
const NOISE_CLEAR_BLURS = { wished: 4, least: 3 }
/** Pixels that tell a noise well enough. */
const ENOUGH_PIXELS = 40

/**
 * The noise of the areas of `even` (their classes, 0 none) that lie clear of every border: as far off as there is room for. Where strokes were not `parted`
 * from the ground they lie in it, so that it is taken to be white. Null where no such area is left.
 */
export function noiseClearOf(
  cut: ReferenceCut,
  even: Uint8Array,
  parted: boolean,
): { readonly noise: number; readonly ground: GroundNoise } | null {
  const { width, height } = cut
  const clearFor = (blurs: number): number => Math.ceil((blurs * cut.clearPx) / 2)
  const least = clearFor(NOISE_CLEAR_BLURS.least)
  for (let clear = clearFor(NOISE_CLEAR_BLURS.wished); clear >= least; clear -= 1) {
    const mask = clearOfBorders(even, width, height, clear)
    const pixels = mask.reduce((sum, one) => sum + one, 0)
    if (pixels < ENOUGH_PIXELS && clear > least) continue
    const told = noiseOf(cut, mask, even)
    if (told === null || parted) return told
    return { ...told, ground: whiteGround(told.noise, pixels) }
  }
  return null
}

function noiseOf(
  { data, width, height }: ReferenceCut,
  mask: Uint8Array,
  even: Uint8Array,
): { readonly noise: number; readonly ground: GroundNoise } | null {
  const noise = secondDifferenceNoise(data, mask, width, height)
  const ground = noise === null ? null : groundNoise(data, mask, even, width, height)
  if (noise === null || ground === null) return null
  // A split by brightness leaves its classes less scatter than there is; what second differences see is the least.
  return { noise, ground: { ...ground, variance: Math.max(ground.variance, noise ** 2) } }
}

/** Noise that neighbours do not share. */
export function whiteGround(noise: number, pixels: number): GroundNoise {
  return { variance: noise ** 2, across: [1], down: [1], pixels }
}

/** The values where `inside` is 1; of a large picture every few of them. */
function someInside(values: Float32Array, inside: Uint8Array): Float32Array {
  const every = Math.max(1, Math.floor(values.length / ENOUGH_VALUES))
  const kept = new Float32Array(Math.ceil(values.length / every))
  let count = 0
  for (let at = 0; at < values.length; at += every) if (inside[at] === 1) kept[count++] = values[at]!
  return kept.subarray(0, count)
}

/** Means over squares of 2 half + 1 pixels, cut off at the picture's border; inside the spans only. */
function smoothed(cut: ReferenceCut, spans: Int32Array, half: number): Float32Array {
  const { width, height } = cut
  const smooth = new Float32Array(width * height)
  for (let j = 0; j < height; j += 1) {
    const top = Math.max(0, j - half)
    const bottom = Math.min(height, j + half + 1)
    for (let i = spans[2 * j]!; i < spans[2 * j + 1]!; i += 1) {
      const left = i > half ? i - half : 0
      const right = i + half < width ? i + half + 1 : width
      smooth[j * width + i] = boxSum(cut.codes, left, top, right, bottom) / ((right - left) * (bottom - top))
    }
  }
  return smooth
}

/** 1 where all pixels up to `clear` away, along rows and columns, are of the pixel's own class and of some class at all. */
export function clearOfBorders(labels: Uint8Array, width: number, height: number, clear: number): Uint8Array {
  const quiet = new Uint8Array(labels.length)
  const box = 2 * clear + 1
  // Per column: the class of the row stretch of `box` pixels that ends there, and for how many rows on end it has been alike.
  const stretchClass = new Uint8Array(width)
  const rows = new Int32Array(width)
  for (let j = 0; j < height; j += 1) {
    let run = 0
    let before = 0
    for (let i = 0, at = j * width; i < width; i += 1, at += 1) {
      const label = labels[at]!
      run = label === before ? run + 1 : 1
      before = label
      const stretch = run >= box ? label : 0
      rows[i] = stretch === 0 ? 0 : stretch === stretchClass[i] ? rows[i]! + 1 : 1
      stretchClass[i] = stretch
      if (rows[i]! >= box) quiet[at - clear * width - clear] = 1
    }
  }
  return quiet
}
