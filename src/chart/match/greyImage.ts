import type { ByteImage } from '../../still/searchBytes.js'

/** A grey picture at one scale, code values row by row; pixel (i, j) has its centre at (i + 0.5, j + 0.5) of its own coordinates. */
export interface GreyImage {
  readonly width: number
  readonly height: number
  readonly data: Float32Array
}

/** The value at a point between pixel centres, bilinear; NaN within half a pixel of the border or outside. */
export function greyAt(image: ByteImage, x: number, y: number): number {
  const column = x - 0.5
  const row = y - 0.5
  if (!(column >= 0 && row >= 0 && column < image.width - 1 && row < image.height - 1)) return NaN
  const i = column | 0
  const j = row | 0
  const s = column - i
  const t = row - j
  const at = j * image.width + i
  const data = image.data
  const top = data[at]! + s * (data[at + 1]! - data[at]!)
  const below = at + image.width
  const bottom = data[below]! + s * (data[below + 1]! - data[below]!)
  return top + t * (bottom - top)
}

/**
 * Standard deviation of the noise, from second differences along rows of a sparse sample of pixels: their median over 0.6745 sqrt 6
 * (the median of a normal's absolute value; the weights 1, -2, 1). Texture makes it larger, noise reduction smaller: a scale, not a measurement.
 */
export function noiseScale(image: ByteImage): number {
  const wanted = 4096
  const step = Math.max(1, Math.floor((image.width * image.height) / wanted)) | 1
  const differences = new Float32Array(Math.max(0, Math.ceil((image.data.length - 2) / step)))
  for (let k = 0, at = 1; k < differences.length; k += 1, at += step)
    differences[k] = Math.abs(image.data[at - 1]! - 2 * image.data[at]! + image.data[at + 1]!)
  differences.sort()
  return (differences[differences.length >> 1] ?? 0) / (0.6745 * Math.sqrt(6))
}

/** The picture flipped left to right. */
export function mirrorImage(image: GreyImage): GreyImage {
  const { width, height } = image
  const data = new Float32Array(width * height)
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1) data[y * width + x] = image.data[y * width + width - 1 - x]!
  return { width, height, data }
}

/** The picture of every other row, those between filled with the mean of their neighbours: one field of a still that joins two. */
export function oneField({ width, height, data }: GreyImage): GreyImage {
  const filled = data.slice()
  for (let row = 1; row < height; row += 2)
    for (let at = row * width; at < (row + 1) * width; at += 1)
      filled[at] = (data[at - width]! + data[row + 1 < height ? at + width : at - width]!) / 2
  return { width, height, data: filled }
}
