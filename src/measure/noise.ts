/** A code value's own rounding, 1/sqrt(12): no noise is told below it. */
export const ROUNDING_NOISE_CODE = Math.sqrt(1 / 12)

/** Fewer second differences than this tell no noise: this project's convention. */
const LEAST_DIFFERENCES = 12
const MOST_PIXELS = 30000

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
  let [count, squares] = [0, 0]
  for (const step of [1, width]) {
    for (let j = 0; j < height; j += 1) {
      if (step > 1 && (j === 0 || j === height - 1)) continue
      for (let i = step === 1 ? 1 : 0; i < (step === 1 ? width - 1 : width); i += 1) {
        const at = j * width + i
        if (mask[at] === 0 || mask[at - step] === 0 || mask[at + step] === 0) continue
        const bend = data[at - step]! - 2 * data[at]! + data[at + step]!
        count += 1
        squares += bend * bend
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
  const lesser: number[] = []
  // Every row of a small cut, some of a large one.
  const every = Math.max(1, Math.floor((width * height) / MOST_PIXELS))
  for (let j = 1; j < height - 1; j += every) {
    for (let i = 1; i < width - 1; i += 1) {
      const at = j * width + i
      if (mask[at] === 0) continue
      const twice = 2 * data[at]!
      const across = Math.abs(data[at - 1]! - twice + data[at + 1]!)
      const down = Math.abs(data[at - width]! - twice + data[at + width]!)
      lesser.push(Math.min(across, down))
    }
  }
  if (lesser.length < LEAST_DIFFERENCES) return null
  lesser.sort((a, b) => a - b)
  return Math.max(ROUNDING_NOISE_CODE, lesser[lesser.length >> 2]! / FIRST_QUARTILE_OF_LESSER_BEND)
}
