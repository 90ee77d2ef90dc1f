import type { Point } from '../../../math/point.js'
import type { TilePyramid } from './tilePyramid.js'
import type { StillWindow } from './stillWindow.js'

/** The loupe's side, CSS px. */
export const LOUPE_SIDE = 176
/** The cross's open middle, CSS px. */
const GAP = 8

/** Draws the pixels around a point, each a square, with the outline and a cross that leaves the pixel in the middle open; `pixel`: its side there, CSS px. */
export function paintLoupe(
  context: CanvasRenderingContext2D,
  pyramid: TilePyramid,
  at: Point,
  points: readonly Point[],
  { density, pixel }: { readonly density: number; readonly pixel: number },
): void {
  const half = LOUPE_SIDE / 2
  const window: StillWindow = { scale: pixel, left: at[0] - half / pixel, top: at[1] - half / pixel }
  context.setTransform(density, 0, 0, density, 0, 0)
  context.fillStyle = '#777'
  context.fillRect(0, 0, LOUPE_SIDE, LOUPE_SIDE)
  pyramid.draw(context, window, { width: LOUPE_SIDE, height: LOUPE_SIDE }, density)
  if (points.length > 1) {
    context.beginPath()
    points.forEach(([x, y], index) => {
      const [u, v] = [(x - window.left) * pixel, (y - window.top) * pixel]
      if (index === 0) context.moveTo(u, v)
      else context.lineTo(u, v)
    })
    if (points.length > 2) context.closePath()
    twice(context, 1)
  }
  context.beginPath()
  for (const [dx, dy] of [
    [1, 0],
    [-1, 0],
    [0, 1],
    [0, -1],
  ] as const) {
    context.moveTo(half + dx * GAP, half + dy * GAP)
    context.lineTo(half + dx * half, half + dy * half)
  }
  twice(context, 1)
}

function twice(context: CanvasRenderingContext2D, width: number): void {
  context.strokeStyle = '#000'
  context.lineWidth = width + 2
  context.stroke()
  context.strokeStyle = '#fff'
  context.lineWidth = width
  context.stroke()
}
