/**
 * A tone curve that had to be taken for sRGB's is known to an exponent of e^-0.15 to e^0.15 (1.9 to 2.6 where sRGB's is some 2.2; rectangular): standard uncertainty
 * of the exponent's logarithm. An S-shaped curve is not in it. This project's convention.
 */
export const ASSUMED_EXPONENT_U = 0.15 / Math.sqrt(3)

/**
 * What a change of the exponent's logarithm does to f10, by the logarithm of an edge's ratio of light: none up to a low ratio, then in proportion, up to that of ink before
 * paper in the sun. Simulated for this project: Gaussian blurs of 0.7 to 2 px by the fitted edge (`fit`) and by the spectrum of the linear profile (`edge`).
 */
const LOADS = {
  fit: { perLn: 0.06, fromLn: 0.7, most: 0.23 },
  edge: { perLn: 0.09, fromLn: 0.5, most: 0.3 },
} as const

/** Relative change of f10 per unit of ln exponent for an edge between two levels, linear light above 0: a steeper curve makes an edge look sharper. */
export function toneLoad(way: keyof typeof LOADS, one: number, other: number): number {
  const { perLn, fromLn, most } = LOADS[way]
  return Math.min(most, Math.max(0, perLn * (Math.abs(Math.log(one / other)) - fromLn)))
}
