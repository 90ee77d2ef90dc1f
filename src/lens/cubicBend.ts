/**
 * The coefficient q of the family's radius r/f = t + q t^3 + ...: 1/3, 1/12, 0, -1/24, -1/6 for the five named projections. A lens is fitted in q because p
 * itself tells nothing at 0, where the radius follows its square (p^2/3 above, -p^2/6 below).
 */
export function cubicOfP(p: number): number {
  return p > 0 ? (p * p) / 3 : (-p * p) / 6
}

/** The p whose radius bends by q: the inverse of `cubicOfP`. */
export function pOfCubic(q: number): number {
  return q > 0 ? Math.sqrt(3 * q) : -Math.sqrt(-6 * q)
}
