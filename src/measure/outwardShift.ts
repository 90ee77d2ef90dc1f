import type { Quad } from '../math/point.js'

/** How x1, y1, ... y4 move where every side grows by one px at each of its ends. */
export function outwardShift(corners: Quad): number[] {
  return corners.flatMap((corner, i) => {
    const shift = [0, 0]
    for (const neighbour of [corners[(i + 1) % 4]!, corners[(i + 3) % 4]!]) {
      const length = Math.hypot(corner[0] - neighbour[0], corner[1] - neighbour[1])
      shift[0]! += (corner[0] - neighbour[0]) / length
      shift[1]! += (corner[1] - neighbour[1]) / length
    }
    return shift
  })
}
