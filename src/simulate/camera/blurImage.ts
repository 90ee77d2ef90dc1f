import type { CodeImage } from './codeImage.js'

/** A Gaussian-blurred copy, sampled kernel, edges repeated: the camera's own filters, which know only pixels. `sigmaPx` over 0. */
export function blurImage(image: CodeImage, sigmaPx: number): CodeImage {
  const reach = Math.max(1, Math.ceil(3 * sigmaPx))
  const weights = new Float64Array(2 * reach + 1)
  for (let k = -reach; k <= reach; k += 1) weights[k + reach] = Math.exp(-0.5 * (k / sigmaPx) ** 2)
  const sum = weights.reduce((a, b) => a + b, 0)
  const { width, height, channels } = image
  const pass = (
    from: Float32Array,
    count: number,
    lineCount: number,
    step: number,
    lineStep: (line: number) => number,
  ) => {
    const to = new Float32Array(from.length)
    for (let line = 0; line < lineCount; line += 1) {
      const base = lineStep(line)
      for (let index = 0; index < count; index += 1) {
        let total = 0
        for (let k = -reach; k <= reach; k += 1) {
          const at = Math.min(count - 1, Math.max(0, index + k))
          total += weights[k + reach]! * from[base + at * step]!
        }
        to[base + index * step] = total / sum
      }
    }
    return to
  }
  const row = width * channels
  const across = pass(
    image.data,
    width,
    height * channels,
    channels,
    (line) => Math.floor(line / channels) * row + (line % channels),
  )
  return { ...image, data: pass(across, height, row, row, (line) => line) }
}
