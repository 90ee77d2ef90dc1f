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
  const blocks: { readonly own: number; readonly pair: number; readonly against: number }[] = []
  let count = 0
  const [right, bottom] = [Math.min(one.width, other.width + dx), Math.min(one.height, other.height + dy)]
  for (let top = Math.max(0, dy); top + BLOCK_PX <= bottom; top += BLOCK_PX) {
    for (let left = Math.max(0, dx); left + BLOCK_PX <= right; left += BLOCK_PX) {
      const middle = one.data[(top + BLOCK_PX / 2) * one.width + left + BLOCK_PX / 2]!
      if (middle <= CLIPPED || middle >= 255 - CLIPPED) continue
      const block = { left, top }
      const pair = scatter(one, block, other, [dx, dy])
      const against = scatter(one, block, third, [0, 0])
      count++
      if (Math.max(pair, against) > LEAST_VARIANCE) blocks.push({ own: scatter(one, block), pair, against })
    }
  }
  if (blocks.length < Math.max(LEAST_BLOCKS, LEAST_SHARE * count)) return null
  const flat = blocks.sort((a, b) => a.own - b.own).slice(0, blocks.length / 2)
  return Math.sqrt(keptMean(flat.map(({ pair }) => pair)) / keptMean(flat.map(({ against }) => against)))
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

/** Variance of a block, or of its difference from another picture's, code values squared. */
function scatter(
  { width, data }: Raster,
  { left, top }: { readonly left: number; readonly top: number },
  other?: Raster,
  [dx, dy]: readonly [number, number] = [0, 0],
): number {
  let [sum, squares] = [0, 0]
  for (let y = top; y < top + BLOCK_PX; y++) {
    const from = y * width
    const against = other === undefined ? 0 : (y - dy) * other.width - dx
    for (let x = left; x < left + BLOCK_PX; x++) {
      const difference = data[from + x]! - (other === undefined ? 0 : other.data[against + x]!)
      sum += difference
      squares += difference * difference
    }
  }
  const count = BLOCK_PX * BLOCK_PX
  return squares / count - (sum / count) ** 2
}

function keptMean(values: readonly number[]): number {
  const kept = values.toSorted((a, b) => a - b).slice(0, Math.ceil(KEPT_SHARE * values.length))
  return kept.reduce((sum, value) => sum + value, 0) / kept.length
}
