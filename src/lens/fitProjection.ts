import { projectionRadius } from './projection.js'

/** A still's two fields of view. */
export interface TwoAngles {
  readonly widthPx: number
  readonly heightPx: number
  readonly horizontalDeg: number
  readonly verticalDeg: number
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
 * The p at which square pixels see `horizontalDeg` over the width and `verticalDeg` over the height: the root of
 * g(p, a)/g(p, b) = long side/short side, a and b being the half angles, which rises with p while a > b. Bounded to -1 ... 1 and to where both angles have an image.
 */
export function fitProjection(angles: TwoAngles): FittedProjection {
  const horizontal = { halfRad: (angles.horizontalDeg * Math.PI) / 360, sidePx: angles.widthPx }
  const vertical = { halfRad: (angles.verticalDeg * Math.PI) / 360, sidePx: angles.heightPx }
  const horizontalIsWider = horizontal.halfRad >= vertical.halfRad
  const wide = horizontalIsWider ? horizontal : vertical
  const narrow = horizontalIsWider ? vertical : horizontal
  const wanted = wide.sidePx / narrow.sidePx
  if (wide.halfRad === narrow.halfRad) {
    return { p: 1, fit: wanted === 1 ? 'free' : wanted > 1 ? 'above' : 'below' }
  }

  const quarterTurn = (Math.PI / 2 / wide.halfRad) * INSIDE
  let low = Math.max(-1, -quarterTurn)
  let high = Math.min(1, quarterTurn)
  const excess = (p: number): number => {
    const wideRadius = projectionRadius(p, wide.halfRad)
    const narrowRadius = projectionRadius(p, narrow.halfRad)
    if (wideRadius === null || narrowRadius === null) return p > 0 ? Infinity : -Infinity
    return wideRadius / narrowRadius - wanted
  }
  if (excess(low) > 0) return { p: low, fit: 'below' }
  if (excess(high) < 0) return { p: high, fit: 'above' }
  for (let step = 0; step < BISECTIONS; step++) {
    const middle = (low + high) / 2
    if (excess(middle) > 0) high = middle
    else low = middle
  }
  return { p: (low + high) / 2, fit: 'inside' }
}
