import type { Point } from '../../math/point.js'

/** What four corners say of how a rectangle is seen, its size left aside. */
export interface CornerShape {
  /** Logarithms of px per width and per height at its middle. */
  readonly logWide: number
  readonly logHigh: number
  /** Cosine of the angle between its two axes in the picture. */
  readonly kappa: number
  /** Share by which the picture's scale grows over its width, and over its height. */
  readonly growsAcross: number
  readonly growsDown: number
}

const HALF_STEP_PX = 1e-3

/** The shape at the middle of four corners (px, clockwise from the top left), by the projective map of the unit square onto them (exact for four). */
export function cornerShape([p0, p1, p2, p3]: readonly Point[]): CornerShape {
  const [dx1, dy1] = [p1![0] - p2![0], p1![1] - p2![1]]
  const [dx2, dy2] = [p3![0] - p2![0], p3![1] - p2![1]]
  const [dx3, dy3] = [p0![0] - p1![0] + p2![0] - p3![0], p0![1] - p1![1] + p2![1] - p3![1]]
  const area = dx1 * dy2 - dx2 * dy1
  const g = (dx3 * dy2 - dx2 * dy3) / area
  const h = (dx1 * dy3 - dx3 * dy1) / area
  const w = 1 + (g + h) / 2
  const slopes = ([0, 1] as const).map((i) => {
    const a = p1![i] - p0![i] + g * p1![i]
    const b = p3![i] - p0![i] + h * p3![i]
    const middle = (a / 2 + b / 2 + p0![i]) / w
    return [(a - g * middle) / w, (b - h * middle) / w] as const
  })
  const [[ax, ay], [bx, by]] = slopes as [readonly [number, number], readonly [number, number]]
  const [wide, high] = [Math.hypot(ax, bx), Math.hypot(ay, by)]
  return {
    logWide: Math.log(wide),
    logHigh: Math.log(high),
    kappa: (ax * ay + bx * by) / (wide * high),
    growsAcross: -g / w,
    growsDown: -h / w,
  }
}

/** How each figure of the shape follows x1, y1 ... y4, per px. */
export function shapeSlopes(corners: readonly Point[]): Readonly<Record<keyof CornerShape, number[]>> {
  const ends = Array.from({ length: 8 }, (_, k) =>
    [HALF_STEP_PX, -HALF_STEP_PX].map((by) =>
      cornerShape(
        corners.map(([x, y], j): Point => [x + (k === 2 * j ? by : 0), y + (k === 2 * j + 1 ? by : 0)]),
      ),
    ),
  )
  const slope = (of: keyof CornerShape): number[] =>
    ends.map(([above, below]) => (above![of] - below![of]) / (2 * HALF_STEP_PX))
  return {
    logWide: slope('logWide'),
    logHigh: slope('logHigh'),
    kappa: slope('kappa'),
    growsAcross: slope('growsAcross'),
    growsDown: slope('growsDown'),
  }
}
