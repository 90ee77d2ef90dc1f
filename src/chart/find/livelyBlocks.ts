import type { ByteImage } from '../../still/searchBytes.js'

/** Blocks of a picture, px: as wide as the word of pixels compared at a time. */
export const BLOCK_COLUMNS = 32
export const BLOCK_ROWS = 8

/** Which blocks of a picture, row by row, are worth a look: 1 or 0. */
export interface LivelyBlocks {
  readonly columns: number
  readonly rows: number
  readonly alive: Uint8Array
}

/**
 * The blocks of a picture of `width` x `height` px where the one at half size, `half`, spans `leastDn` code values or more. Even ground holds no part of a chart's
 * outline, but noise makes half of it dark, which costs most of a search.
 */
export function livelyBlocks(half: ByteImage, width: number, height: number, leastDn: number): LivelyBlocks {
  const columns = Math.ceil(width / BLOCK_COLUMNS)
  const rows = Math.ceil(height / BLOCK_ROWS)
  const alive = new Uint8Array(columns * rows)
  for (let block = 0; block < rows; block += 1) {
    const top = (block * BLOCK_ROWS) / 2
    const bottom = Math.min(half.height, top + BLOCK_ROWS / 2)
    for (let column = 0; column < columns; column += 1) {
      const left = (column * BLOCK_COLUMNS) / 2
      const right = Math.min(half.width, left + BLOCK_COLUMNS / 2)
      if (spans(half, left, right, top, bottom, leastDn)) alive[block * columns + column] = 1
    }
  }
  return { columns, rows, alive }
}

function spans(
  { width, data }: ByteImage,
  left: number,
  right: number,
  top: number,
  bottom: number,
  leastDn: number,
): boolean {
  let low = 255
  let high = 0
  for (let y = top; y < bottom; y += 1) {
    for (let at = y * width + left, end = y * width + right; at < end; at += 1) {
      const value = data[at]!
      low = value < low ? value : low
      high = value > high ? value : high
    }
    if (high - low >= leastDn) return true
  }
  // An odd last row or column has no pixel at half size to tell.
  return top >= bottom || left >= right
}
