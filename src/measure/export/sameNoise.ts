import type { Raster } from '../../still/raster.js'

/** Blocks a difference is taken in, px: less its own mean it is rid of all that changes slowly, as light does. */
const BLOCK_PX = 8
/** Blocks that scatter most are left out of each mean: somebody walked there. This project's convention. */
const KEPT_SHARE = 0.8
/** Where noise is gone in more than a tenth of the blocks that are not clipped, as under a JPEG quality of 80, or they are few, nothing can be told. This project's convention. */
const LEAST_SHARE = 0.9
const LEAST_BLOCKS = 200
/** Code values this near black or white may be clipped. This project's convention. */
const CLIPPED = 2
/** A block that differs by less than so much holds no noise, code values squared. */
const LEAST_VARIANCE = 0.05
/** Two exposures differ by 0.77 and more of what one of them and a third do, in the wind too; one picture encoded again at a quality of 80 by 0.66 at most where noise is 2 code values (simulated). */
export const SAME_NOISE = 0.75

/**
 * What two stills differ by, as a share of what one of them and a third of its light and size differ by: noise alone, in the flatter half of the picture, for what stands
 * still cancels. About 1 for two exposures; the less, the more likely one picture was written twice. Null where it cannot be told. The other's pixel (x, y) is
 * the one's (x + dx, y + dy), px.
 */
export function noiseShare(
  one: Raster,
  other: Raster,
  [dx, dy]: readonly [number, number],
  third: Raster,
): number | null {
  const [right, bottom] = [Math.min(one.width, other.width + dx), Math.min(one.height, other.height + dy)]
  const [firstLeft, firstTop] = [Math.max(0, dx), Math.max(0, dy)]
  const columns = Math.max(0, Math.floor((right - firstLeft) / BLOCK_PX))
  const most = columns * Math.max(0, Math.floor((bottom - firstTop) / BLOCK_PX))
  const [own, pair, against] = [new Float64Array(most), new Float64Array(most), new Float64Array(most)]
  const [{ width, data }, { data: otherData }, { data: thirdData }] = [one, other, third]
  let [count, found] = [0, 0]
  for (let top = firstTop; top + BLOCK_PX <= bottom; top += BLOCK_PX) {
    // So many blocks without noise are too many however many are clipped.
    if (count - found > (1 - LEAST_SHARE) * most + 1) return null
    for (let left = firstLeft; left + BLOCK_PX <= right; left += BLOCK_PX) {
      const at = top * width + left
      const middle = data[at + (BLOCK_PX / 2) * (width + 1)]!
      if (middle <= CLIPPED || middle >= 255 - CLIPPED) continue
      count++
      const there = (top - dy) * other.width + left - dx
      pair[found] = differenceScatter(data, at, width, otherData, there, other.width)
      against[found] = differenceScatter(data, at, width, thirdData, top * third.width + left, third.width)
      if (!(Math.max(pair[found]!, against[found]!) > LEAST_VARIANCE)) continue
      own[found] = scatter(data, at, width)
      found++
    }
  }
  if (found < Math.max(LEAST_BLOCKS, LEAST_SHARE * count)) return null
  const byOwn = Uint32Array.from({ length: found }, (_, at) => at).sort((a, b) => own[a]! - own[b]!)
  const flat = byOwn.subarray(0, found / 2)
  return Math.sqrt(keptMean(flat, pair) / keptMean(flat, against))
}

/**
 * The same of a pair of which either may be the copy, where they are as large: encoding takes noise away, so the less of both ways counts.
 */
export function leastNoiseShare(
  one: Raster,
  other: Raster,
  shift: readonly [number, number],
  third: Raster,
): number | null {
  const there = noiseShare(one, other, shift, third)
  if (there === null || one.width !== other.width || one.height !== other.height) return there
  return Math.min(there, noiseShare(other, one, shift, third) ?? there)
}

/** Where the other picture lies in the one, px: the whole pixels within two of a guess at which they differ least. */
export function bestShift(
  one: Raster,
  other: Raster,
  [guessX, guessY]: readonly [number, number],
): readonly [number, number] {
  let best = { shift: [guessX, guessY] as const, mean: Infinity }
  for (let dy = guessY - 2; dy <= guessY + 2; dy++) {
    for (let dx = guessX - 2; dx <= guessX + 2; dx++) {
      let [sum, count] = [0, 0]
      for (let y = Math.max(0, dy); y < Math.min(one.height, other.height + dy); y += 7) {
        for (let x = Math.max(0, dx); x < Math.min(one.width, other.width + dx); x += 7, count++) {
          sum += Math.abs(one.data[y * one.width + x]! - other.data[(y - dy) * other.width + x - dx]!)
        }
      }
      if (sum / count < best.mean) best = { shift: [dx, dy], mean: sum / count }
    }
  }
  return best.shift
}

/** Variance of the block that begins at a place, code values squared. */
function scatter(data: Float32Array, from: number, width: number): number {
  let [sum, squares] = [0, 0]
  for (let row = 0, at = from; row < BLOCK_PX; row++, at += width) {
    for (let x = 0; x < BLOCK_PX; x++) {
      const value = data[at + x]!
      sum += value
      squares += value * value
    }
  }
  return variance(sum, squares)
}

/** Variance of what a block differs by from another picture's, code values squared. */
function differenceScatter(
  data: Float32Array,
  from: number,
  width: number,
  otherData: Float32Array,
  otherFrom: number,
  otherWidth: number,
): number {
  let [sum, squares] = [0, 0]
  for (let row = 0, at = from, there = otherFrom; row < BLOCK_PX; row++, at += width, there += otherWidth) {
    for (let x = 0; x < BLOCK_PX; x++) {
      const difference = data[at + x]! - otherData[there + x]!
      sum += difference
      squares += difference * difference
    }
  }
  return variance(sum, squares)
}

function variance(sum: number, squares: number): number {
  const count = BLOCK_PX * BLOCK_PX
  return squares / count - (sum / count) ** 2
}

function keptMean(places: Uint32Array, of: Float64Array): number {
  const values = Float64Array.from(places, (at) => of[at]!).sort()
  const kept = values.subarray(0, Math.ceil(KEPT_SHARE * values.length))
  return kept.reduce((sum, value) => sum + value, 0) / kept.length
}
