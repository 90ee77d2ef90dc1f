/** A code value's own rounding, 1/sqrt(12): no noise is told below it. */
export const ROUNDING_NOISE_CODE = Math.sqrt(1 / 12)

/** Fewer second differences than this tell no noise: this project's convention. */
const LEAST_DIFFERENCES = 12
/** Enough to tell a quartile within 2 %. */
const MOST_PIXELS = 8000

/**
 * Standard deviation of the noise, code values, from second differences along rows and columns inside `mask` (1 where a pixel may count): they
 * do not see even ground or an even slope of light. White noise of standard deviation s gives them s sqrt 6. Floored at rounding; null where there are too few.
 */
export function secondDifferenceNoise(
  data: Float32Array,
  mask: Uint8Array,
  width: number,
  height: number,
): number | null {
  let count = 0
  let squares = 0
  for (let j = 0; j < height; j += 1) {
    const inner = j > 0 && j < height - 1
    for (let i = 0, at = j * width; i < width; i += 1, at += 1) {
      if (mask[at] === 0) continue
      const twice = 2 * data[at]!
      if (i > 0 && i < width - 1 && mask[at - 1] !== 0 && mask[at + 1] !== 0) {
        const across = data[at - 1]! - twice + data[at + 1]!
        count += 1
        squares += across * across
      }
      if (inner && mask[at - width] !== 0 && mask[at + width] !== 0) {
        const down = data[at - width]! - twice + data[at + width]!
        count += 1
        squares += down * down
      }
    }
  }
  if (count < LEAST_DIFFERENCES) return null
  return Math.max(ROUNDING_NOISE_CODE, Math.sqrt(squares / count / 6))
}

/** The first quartile of min(|a|, |b|), a and b the second differences along row and column of white noise of standard deviation 1 (found by drawing 4 million). */
const FIRST_QUARTILE_OF_LESSER_BEND = 0.4241

/**
 * An upper bound of the noise, code values, where no even ground is left between strokes: strokes run along rows or columns, so the lesser of a pixel's
 * two second differences sees few of them; of those the first quartile counts. Null where there are too few pixels.
 */
export function quietestNoise(
  data: Float32Array,
  mask: Uint8Array,
  width: number,
  height: number,
): number | null {
  // Every pixel of a small cut, of a large one some; an odd step, so that not always the same place of JPEG's blocks of 8 is met.
  const every = 2 * Math.floor(Math.sqrt((width * height) / MOST_PIXELS) / 2) + 1
  const lesser = new Float32Array(Math.ceil(width / every) * Math.ceil(height / every))
  let count = 0
  for (let j = 1; j < height - 1; j += every) {
    for (let i = 1, at = j * width + 1; i < width - 1; i += every, at += every) {
      if (mask[at] === 0) continue
      const twice = 2 * data[at]!
      const across = Math.abs(data[at - 1]! - twice + data[at + 1]!)
      const down = Math.abs(data[at - width]! - twice + data[at + width]!)
      lesser[count] = across < down ? across : down
      count += 1
    }
  }
  if (count < LEAST_DIFFERENCES) return null
  const quartile = lesser.subarray(0, count).sort()[count >> 2]!
  return Math.max(ROUNDING_NOISE_CODE, quartile / FIRST_QUARTILE_OF_LESSER_BEND)
}
