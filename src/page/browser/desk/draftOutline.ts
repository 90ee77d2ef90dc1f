import type { Point, Quad } from '../../../math/point.js'
import { firstOutline } from './firstOutline.js'

/** A proposal: an outline through the corners placed so far, and which of its corners those are. */
export interface ProposedOutline {
  readonly corners: Quad
  readonly placed: readonly boolean[]
}

/** A corner is the point that was placed there to within this, px. */
const SAME_PX = 1e-6

/** An outline from two or three corners placed anyhow, px, clockwise from the top left; `model` is one that it likely resembles. Null where they tell none. */
export function draftOutline(points: readonly Point[], model: Quad | null): ProposedOutline | null {
  const [a, b, c] = points
  if (a === undefined || b === undefined || points.length > 3) return null
  const corners = c === undefined ? firstOutline(a, b, model) : roundOutline([a, b, c, fourth(a, b, c)])
  if (corners === null) return null
  const placed = corners.map(([x, y]) => points.some(([u, v]) => Math.hypot(u - x, v - y) < SAME_PX))
  return { corners, placed }
}

/** The corner that makes a parallelogram of three: across from the one between the two that lie farthest apart. */
function fourth(a: Point, b: Point, c: Point): Point {
  const far = ([x, y]: Point, [u, v]: Point): number => Math.hypot(x - u, y - v)
  const [p, q, between] =
    far(a, b) > far(b, c) && far(a, b) > far(a, c) ? [a, b, c] : far(b, c) > far(a, c) ? [b, c, a] : [a, c, b]
  return [p[0] + q[0] - between[0], p[1] + q[1] - between[1]]
}

/** Four points in whatever order as an outline, px, clockwise, its top side first: the one that runs most to the right. Null where one lies within the others. */
export function roundOutline(points: readonly [Point, Point, Point, Point]): Quad | null {
  const x0 = points.reduce((sum, [x]) => sum + x, 0) / 4
  const y0 = points.reduce((sum, [, y]) => sum + y, 0) / 4
  const round = [...points].sort(
    (p, q) => Math.atan2(p[1] - y0, p[0] - x0) - Math.atan2(q[1] - y0, q[0] - x0),
  )
  const at = (i: number): Point => round[(i + 4) % 4]!
  const turns = round.map((_, i) => {
    const [p, q, r] = [at(i - 1), at(i), at(i + 1)]
    return (q[0] - p[0]) * (r[1] - q[1]) - (q[1] - p[1]) * (r[0] - q[0])
  })
  if (turns.some((turn) => turn <= 0)) return null
  const rightward = round.map(
    (p, i) => (at(i + 1)[0] - p[0]) / Math.hypot(at(i + 1)[0] - p[0], at(i + 1)[1] - p[1]),
  )
  const first = rightward.indexOf(Math.max(...rightward))
  return [at(first), at(first + 1), at(first + 2), at(first + 3)]
}
