import type { Point, Quad } from '../../math/point.js'
import type { Random } from '../../math/random.js'

/** How a hand clicks: scatter per axis and a shift outwards along each side, px. */
export interface ClickHabit {
  readonly sigmaPx: number
  readonly outwardPx: number
}

/** Corners (clockwise from the top left, px) as a hand would click them, to the hundredth of a pixel. */
export function simulateClicks(corners: Quad, habit: ClickHabit, random: Random): Quad {
  const click = (index: number): Point => {
    const here = corners[index]!
    const before = corners[(index + 3) % 4]!
    const after = corners[(index + 1) % 4]!
    const [ax, ay] = away(here, before)
    const [bx, by] = away(here, after)
    const x = here[0] + habit.outwardPx * (ax + bx) + habit.sigmaPx * random.normal()
    const y = here[1] + habit.outwardPx * (ay + by) + habit.sigmaPx * random.normal()
    return [Math.round(x * 100) / 100, Math.round(y * 100) / 100]
  }
  return [click(0), click(1), click(2), click(3)]
}

/** The unit direction from a neighbour to a corner and on. */
function away(from: Point, neighbour: Point): Point {
  const [x, y] = [from[0] - neighbour[0], from[1] - neighbour[1]]
  const length = Math.hypot(x, y)
  return [x / length, y / length]
}
