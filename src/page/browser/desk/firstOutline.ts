import type { Point, Quad } from '../../../math/point.js'

/**
 * A first outline from two clicks on opposite corners, px, clockwise from the top left. Shaped like `model`, the outline of the still
 * before, where there is one: stretched so that its corners lie on the clicks; else upright. Null where the clicks are too near in a line.
 */
export function firstOutline(one: Point, other: Point, model: Quad | null): Quad | null {
  const left = Math.min(one[0], other[0])
  const right = Math.max(one[0], other[0])
  const top = Math.min(one[1], other[1])
  const bottom = Math.max(one[1], other[1])
  if (right - left < 2 || bottom - top < 2) return null
  const upright: Quad = [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ]
  if (model === null) return upright
  // The clicks are the first and third corner where they fall to the right, else the second and fourth.
  const falling = (other[0] - one[0]) * (other[1] - one[1]) > 0
  const [a, b] = falling ? [model[0], model[2]] : [model[1], model[3]]
  const [p, q] = falling ? [upright[0], upright[2]] : [upright[1], upright[3]]
  const [spanX, spanY] = [b[0] - a[0], b[1] - a[1]]
  if (Math.sign(spanX) !== Math.sign(q[0] - p[0]) || Math.sign(spanY) !== Math.sign(q[1] - p[1]))
    return upright
  const stretched = model.map(([x, y]): Point => [
    p[0] + ((x - a[0]) / spanX) * (q[0] - p[0]),
    p[1] + ((y - a[1]) / spanY) * (q[1] - p[1]),
  ]) as unknown as Quad
  // A thin outline held askew can be stretched out of all shape: then the upright one is nearer.
  const within = stretched.every(
    ([x, y]) =>
      x > left - (right - left) / 2 &&
      x < right + (right - left) / 2 &&
      y > top - (bottom - top) / 2 &&
      y < bottom + (bottom - top) / 2,
  )
  return within ? stretched : upright
}
