/** The picture is cut into so many cells across and down: what is seen in one of them counts a few times only. */
export const ACROSS = 12
export const DOWN = 7
/** Of the 84 cells so many must agree before anything is told: another camera's still came to 9 at most, the same camera's to 18 at least. */
export const LEAST_CELLS = 16

/** The cell of a place in a picture of that size; the nearest where it lies outside. */
export function cellOf(x: number, y: number, width: number, height: number): number {
  const at = (share: number, count: number): number =>
    Math.min(count - 1, Math.max(0, Math.floor(share * count)))
  return at(y / height, DOWN) * ACROSS + at(x / width, ACROSS)
}
