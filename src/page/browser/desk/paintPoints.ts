import type { Point } from '../../../math/point.js'
import { toScreen, type StillWindow } from './stillWindow.js'

/** What is drawn over a still. Points in px of the still. */
export interface Overlay {
  readonly points: readonly Point[]
  /** Index of the chosen point. */
  readonly chosen: number | null
  /** The outline fitted to the edges, before it is taken. */
  readonly fitted: readonly Point[] | null
  /** What else is picked or found on the still. */
  readonly others: readonly (readonly Point[])[]
  /** A found chart: shown, not to be moved. */
  readonly found: boolean
  /** Whether the points are a pick; else they are some of its corners. */
  readonly isPick: boolean
  /** The outline that the placed corners propose: no pick. */
  readonly proposed: readonly Point[] | null
  /** Where a click would fall, while points are placed. */
  readonly cursor: Point | null
}

/** Half the gap at a corner's middle, CSS px: the corner itself stays in sight. */
const GAP = 3.5
const ARM = 12

/** Draws outline, corners, the fitted outline and the cursor over a still, white on black so that they show on any picture. */
export function paintPoints(
  context: CanvasRenderingContext2D,
  window: StillWindow,
  width: number,
  height: number,
  overlay: Overlay,
): void {
  context.lineJoin = 'round'
  const at = (points: readonly Point[]): Point[] => points.map((point) => toScreen(window, point))
  const points = at(overlay.points)
  for (const other of overlay.others) stroke(context, outlinePath(at(other)), [1, 5], 1, 0.8)
  if (points.length > 1 && overlay.isPick)
    stroke(context, outlinePath(points), overlay.found ? [2, 4] : [], 1.25)
  if (overlay.proposed !== null) stroke(context, outlinePath(at(overlay.proposed)), [3, 6], 1)
  if (!overlay.found)
    points.forEach((point, index) =>
      paintCorner(context, point, overlay.isPick ? index : 1, index === overlay.chosen),
    )
  if (overlay.fitted !== null) {
    const fitted = at(overlay.fitted)
    stroke(context, outlinePath(fitted), [7, 5], 2)
    for (const [x, y] of fitted) stroke(context, circlePath(x, y, 5), [], 1.5)
  }
  const cursor = overlay.cursor === null ? null : toScreen(window, overlay.cursor)
  if (cursor !== null) {
    const hair = new Path2D()
    hair.moveTo(0, cursor[1])
    hair.lineTo(cursor[0] - GAP * 2, cursor[1])
    hair.moveTo(cursor[0] + GAP * 2, cursor[1])
    hair.lineTo(width, cursor[1])
    hair.moveTo(cursor[0], 0)
    hair.lineTo(cursor[0], cursor[1] - GAP * 2)
    hair.moveTo(cursor[0], cursor[1] + GAP * 2)
    hair.lineTo(cursor[0], height)
    stroke(context, hair, [], 0.75, 0.75)
  }
  const [first] = points
  if (first !== undefined && points.length === 1 && !overlay.isPick && cursor !== null) {
    const span = new Path2D()
    span.rect(
      Math.min(first[0], cursor[0]),
      Math.min(first[1], cursor[1]),
      Math.abs(cursor[0] - first[0]),
      Math.abs(cursor[1] - first[1]),
    )
    stroke(context, span, [4, 4], 1)
  }
}

/** A cross with an open middle; the chosen one ringed, the first (the reference's own top left) with a dot beside it. */
function paintCorner(context: CanvasRenderingContext2D, [x, y]: Point, index: number, chosen: boolean): void {
  const path = new Path2D()
  for (const [dx, dy] of [
    [1, 0],
    [-1, 0],
    [0, 1],
    [0, -1],
  ] as const) {
    path.moveTo(x + dx * GAP, y + dy * GAP)
    path.lineTo(x + dx * ARM, y + dy * ARM)
  }
  stroke(context, path, [], 1.25)
  if (chosen) stroke(context, circlePath(x, y, ARM + 4), [], 2)
  if (index === 0) {
    const dot = circlePath(x - 9, y - 9, 3)
    stroke(context, dot, [], 1.5)
    context.fillStyle = '#fff'
    context.fill(dot)
  }
}

function outlinePath(points: readonly Point[]): Path2D {
  const path = new Path2D()
  points.forEach(([x, y], index) => (index === 0 ? path.moveTo(x, y) : path.lineTo(x, y)))
  if (points.length > 2) path.closePath()
  return path
}

function circlePath(x: number, y: number, radius: number): Path2D {
  const path = new Path2D()
  path.arc(x, y, radius, 0, 2 * Math.PI)
  return path
}

function stroke(
  context: CanvasRenderingContext2D,
  path: Path2D,
  dash: readonly number[],
  width: number,
  strength = 1,
): void {
  context.save()
  context.globalAlpha = strength
  context.setLineDash([])
  context.strokeStyle = '#000'
  context.lineWidth = width + 2
  context.stroke(path)
  context.setLineDash([...dash])
  context.strokeStyle = '#fff'
  context.lineWidth = width
  context.stroke(path)
  context.restore()
}
