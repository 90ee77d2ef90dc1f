/** Where squares of whole pixels find room in a mask. */
export interface SquareRoom {
  readonly width: number
  readonly height: number
  /** The side, px, of the largest square of the mask's pixels that ends (right and below) at each pixel; 0 outside the mask. */
  readonly side: Uint16Array
  /** At how many pixels a square of at least so many px a side ends; element 1 counts the mask's pixels. */
  readonly places: readonly number[]
}

/** Room for squares where `mask` (row by row) is 1: each pixel's from its three neighbours before it. */
export function squareRoom(mask: Uint8Array, width: number, height: number): SquareRoom {
  const side = new Uint16Array(width * height)
  const exactly = new Uint32Array(Math.min(width, height) + 1)
  for (let j = 0; j < height; j += 1) {
    let before = 0
    for (let i = 0, at = j * width; i < width; i += 1, at += 1) {
      let here = 0
      if (mask[at] === 1) {
        here = 1
        if (i > 0 && j > 0) {
          const above = side[at - width]!
          const corner = side[at - width - 1]!
          here = 1 + (before < above ? (before < corner ? before : corner) : above < corner ? above : corner)
        }
        side[at] = here
        exactly[here]! += 1
      }
      before = here
    }
  }
  const places = [...exactly]
  for (let size = places.length - 2; size >= 1; size -= 1) places[size]! += places[size + 1]!
  return { width, height, side, places }
}
