/** A dash pattern in points: on, off, on, off; empty for a solid line. */
export type DashPt = readonly number[]

const DASHES: readonly DashPt[] = [
  [],
  [5, 2.2],
  [1, 1.8],
  [7, 2, 1.2, 2],
  [9, 3],
  [3, 1.4],
  [7, 1.8, 1.2, 1.8, 1.2, 1.8],
  [2, 3],
]

const SHAPES = ['circle', 'square', 'triangle', 'diamond'] as const
export type MarkerShape = (typeof SHAPES)[number]

/** The line style of the nth light. */
export function lightDash(index: number): DashPt {
  return DASHES[index % DASHES.length] ?? []
}

/** The marker of the nth reference. */
export function referenceShape(index: number): MarkerShape {
  return SHAPES[index % SHAPES.length] ?? 'circle'
}
