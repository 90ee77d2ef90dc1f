/** Sums over boxes of a picture in constant time, from a table of running sums one wider and one higher than the picture. */
export interface BoxSums {
  readonly width: number
  readonly height: number
  readonly table: Float64Array
}

/** The running sums of `values` (row by row). */
export function boxSums(values: Float32Array, width: number, height: number): BoxSums {
  const stride = width + 1
  const table = new Float64Array(stride * (height + 1))
  for (let j = 0; j < height; j += 1) {
    let row = 0
    const above = j * stride + 1
    for (let i = 0, at = j * width; i < width; i += 1, at += 1) {
      row += values[at]!
      table[above + stride + i] = table[above + i]! + row
    }
  }
  return { width, height, table }
}

/** The sum over columns left..right-1 and rows top..bottom-1, which must lie within the picture. */
export function boxSum(sums: BoxSums, left: number, top: number, right: number, bottom: number): number {
  const stride = sums.width + 1
  const { table } = sums
  const above = table[top * stride + right]! - table[top * stride + left]!
  const below = table[bottom * stride + right]! - table[bottom * stride + left]!
  return below - above
}
