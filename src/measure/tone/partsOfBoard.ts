import { coverageFactor } from '../../math/quantiles.js'
import { ROUNDING_NOISE_CODE, secondDifferenceNoise } from './noise.js'
import type { Raster } from '../../still/raster.js'
import type { SideLine } from '../edge/sideLine.js'
import { BLACK_CODE, WHITE_CODE } from './clipping.js'

type BoardCut = Raster & { readonly lines: readonly SideLine[] }

/** A side that shows fewer pixels of its surround tells no level. This project's convention. */
const LEAST_PIXELS = 12

/**
 * Standard uncertainty of the surround's level (the pixels of label 2), code values, by how the board's sides differ in it: what lies round a board is rarely one level, and a file that
 * is damaged on one side shows it there. The mean of four stands for a normal draw by Student's t.
 */
export function surroundU({ data, left, top, width, lines }: BoardCut, labels: Uint8Array): number {
  const sums = lines.map(() => ({ sum: 0, pixels: 0 }))
  for (let at = 0; at < labels.length; at += 1) {
    // What is black is missing, or another thing: it counts towards no level where the others lie above it.
    if (labels[at] !== 2 || data[at]! <= BLACK_CODE) continue
    const [x, y] = [left + (at % width) + 0.5, top + Math.floor(at / width) + 0.5]
    let [farthest, side] = [-Infinity, sums[0]!]
    lines.forEach(({ from, outward }, index) => {
      const out = (x - from[0]) * outward[0] + (y - from[1]) * outward[1]
      if (out > farthest) [farthest, side] = [out, sums[index]!]
    })
    side.sum += data[at]!
    side.pixels += 1
  }
  const levels = sums.filter(({ pixels }) => pixels >= LEAST_PIXELS).map(({ sum, pixels }) => sum / pixels)
  if (levels.length < 2) return 0
  const dof = levels.length - 1
  const mean = levels.reduce((total, level) => total + level, 0) / levels.length
  const squares = levels.reduce((total, level) => total + (level - mean) ** 2, 0)
  const widened = coverageFactor(dof) / coverageFactor(Infinity)
  return widened * Math.sqrt(squares / dof / levels.length)
}

/** A quarter so many times as rough as another, and so rough in code values, is no board throughout: behind codecs it was up to 4.3 times. This project's convention. */
const ROUGHER_TIMES = 8
const ROUGH_CODES = 5
/** A quarter with a larger share of its pixels at white or black is smooth by clipping. */
const MOST_CLIPPED = 0.02

/** Whether a quarter of the pixels where `board` is 1 is so much rougher than another: covered, or spoilt. What clipping or smoothing left without noise is no measure for the others. */
export function isPartRough({ data, left, top, width, height, lines }: BoardCut, board: Uint8Array): boolean {
  const [middleX, middleY] = ([0, 1] as const).map(
    (axis) => lines.reduce((sum, { from }) => sum + from[axis], 0) / 4,
  ) as [number, number]
  let [roughest, smoothest] = [0, Infinity]
  for (const quarter of [0, 1, 2, 3]) {
    let [pixels, clipped] = [0, 0]
    const mask = board.map((one, at) => {
      const [isRight, isBelow] = [left + (at % width) >= middleX, top + Math.floor(at / width) >= middleY]
      if (one === 0 || Number(isRight) + 2 * Number(isBelow) !== quarter) return 0
      pixels += 1
      if (data[at]! >= WHITE_CODE || data[at]! <= BLACK_CODE) clipped += 1
      return 1
    })
    const noise = secondDifferenceNoise(data, mask, width, height) ?? 0
    roughest = Math.max(roughest, noise)
    if (noise > ROUNDING_NOISE_CODE && clipped <= MOST_CLIPPED * pixels)
      smoothest = Math.min(smoothest, noise)
  }
  return roughest >= Math.max(ROUGH_CODES, ROUGHER_TIMES * smoothest)
}
