import type { CodeImage } from './codeImage.js'

/**
 * A whole picture blown up by a whole factor, as a player's export does: cubic convolution (Keys, IEEE Trans. ASSP 29 (1981)
 * 1153, a = -1/2), edges repeated, clipped to 0..255. Image coordinates scale with the factor: outer corners stay outer corners.
 */
export function upscaleImage(image: CodeImage, factor: number): CodeImage {
  const { channels } = image
  const across = stretch(image.data, image.width, image.height, channels, factor)
  const tall = stretch(across, image.height, 1, image.width * factor * channels, factor)
  return {
    left: image.left * factor,
    top: image.top * factor,
    width: image.width * factor,
    height: image.height * factor,
    channels,
    data: clip(tall),
  }
}

function clip(data: Float32Array): Float32Array {
  for (let at = 0; at < data.length; at += 1) {
    const value = data[at]!
    if (value < 0) data[at] = 0
    else if (value > 255) data[at] = 255
  }
  return data
}

/** `lines` lines of `count` cells of `cell` values, each line stretched by the factor. */
function stretch(
  from: Float32Array,
  count: number,
  lines: number,
  cell: number,
  factor: number,
): Float32Array {
  const to = new Float32Array(from.length * factor)
  const wide = count * factor
  const cells = new Int32Array(wide * 4)
  const weights = new Float64Array(wide * 4)
  for (let index = 0; index < wide; index += 1) {
    const at = (index + 0.5) / factor - 0.5
    const first = Math.floor(at)
    for (let k = 0; k < 4; k += 1) {
      cells[index * 4 + k] = Math.min(count - 1, Math.max(0, first + k - 1)) * cell
      weights[index * 4 + k] = keys(at - first - k + 1)
    }
  }
  for (let line = 0; line < lines; line += 1) {
    const base = line * count * cell
    for (let index = 0; index < wide; index += 1) {
      const at = index * 4
      const a = base + cells[at]!
      const b = base + cells[at + 1]!
      const c = base + cells[at + 2]!
      const d = base + cells[at + 3]!
      const target = (line * wide + index) * cell
      for (let value = 0; value < cell; value += 1) {
        to[target + value] =
          weights[at]! * from[a + value]! +
          weights[at + 1]! * from[b + value]! +
          weights[at + 2]! * from[c + value]! +
          weights[at + 3]! * from[d + value]!
      }
    }
  }
  return to
}

/** Keys' cubic kernel, a = -1/2. */
function keys(x: number): number {
  const d = Math.abs(x)
  if (d < 1) return 1.5 * d * d * d - 2.5 * d ** 2 + 1
  return d < 2 ? -0.5 * d * d * d + 2.5 * d ** 2 - 4 * d + 2 : 0
}
