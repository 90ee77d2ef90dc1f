import { projectionRadius } from './projection.js'

/** A whole field of view, degrees, over a line of so many px through the middle of the picture. */
export interface StatedAngle {
  readonly deg: number
  readonly px: number
}

/** The member of the projection family that two angles ask for. */
export interface FittedProjection {
  /** In -1 ... 1, the nearest there is. */
  readonly p: number
  /** `inside`: p reproduces both angles; `above`, `below`: that would take a p over 1 or under -1; `free`: any p does. */
  readonly fit: 'inside' | 'above' | 'below' | 'free'
}

const BISECTIONS = 60

/** Keeps p just inside the end of its domain, where rounding could put the wide angle's image out of reach. */
const INSIDE = 1 - 1e-12

/**
 * The p at which square pixels see both angles: the root of g(p, a)/g(p, b) = longer line/shorter line, a and b being the half angles, which rises with p while
 * a > b. Bounded to -1 ... 1 and to where both angles have an image.
 */
export function fitProjection(one: StatedAngle, other: StatedAngle): FittedProjection {
  const [wide, narrow] = one.deg >= other.deg ? [one, other] : [other, one]
  const wanted = wide.px / narrow.px
  const { low, high } = projectionsOf(wide)
  if (wide.deg === narrow.deg) {
    return { p: high, fit: wanted === 1 ? 'free' : wanted > 1 ? 'above' : 'below' }
  }
  const excess = (p: number): number => {
    const wideRadius = projectionRadius(p, halfRad(wide))
    const narrowRadius = projectionRadius(p, halfRad(narrow))
    if (wideRadius === null || narrowRadius === null) return p > 0 ? Infinity : -Infinity
    return wideRadius / narrowRadius - wanted
  }
  if (excess(low) > 0) return { p: low, fit: 'below' }
  if (excess(high) < 0) return { p: high, fit: 'above' }
  return { p: risingRoot(excess, low, high), fit: 'inside' }
}

/** The p of a lens of F px per radian that sees the angle, the nearest there is. */
export function projectionSeeing(angle: StatedAngle, pixelsPerRadian: number): number {
  const { low, high } = projectionsOf(angle)
  return risingRoot((p) => pixelsPerRadian - pixelsPerRadianSeeing(angle, p), low, high)
}

/** F of a lens of projection p that sees the angle; 0 where it has no image of it. */
export function pixelsPerRadianSeeing(angle: StatedAngle, p: number): number {
  return angle.px / 2 / (projectionRadius(p, halfRad(angle)) ?? Infinity)
}

/** The projections of the family that have an image of the angle, from the most bent to the straightest. */
export function projectionsOf(angle: StatedAngle): { readonly low: number; readonly high: number } {
  const quarterTurn = (Math.PI / 2 / halfRad(angle)) * INSIDE
  return { low: Math.max(-1, -quarterTurn), high: Math.min(1, quarterTurn) }
}

function halfRad({ deg }: StatedAngle): number {
  return (deg * Math.PI) / 360
}

function risingRoot(excess: (p: number) => number, from: number, to: number): number {
  let [low, high] = [from, to]
  for (let step = 0; step < BISECTIONS; step++) {
    const middle = (low + high) / 2
    if (excess(middle) > 0) high = middle
    else low = middle
  }
  return (low + high) / 2
}
