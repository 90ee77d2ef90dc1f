import { normalDensity, normalIntegral } from '../../math/normalIntegral.js'

/** The square pixel as an edge sees it: two boxes across the edge, |nx| and |ny| px wide, nx and ny being the edge's unit normal. */
export interface EdgeAperture {
  readonly widePx: number
  readonly narrowPx: number
}

/** Under this width a box is no different from a Gaussian of the same variance (the fourth moments differ by 1e-5 px^4). */
const LEAST_BOX_PX = 0.15

/** The aperture of a pixel across an edge with the unit normal (`nx`, `ny`). */
export function edgeAperture(nx: number, ny: number): EdgeAperture {
  const x = Math.abs(nx)
  const y = Math.abs(ny)
  return { widePx: Math.max(x, y), narrowPx: Math.min(x, y) }
}

/** An edge's response and its derivatives by distance and by blur. */
export interface EdgeResponse {
  value: number
  byDistance: number
  bySigma: number
}

/**
 * Writes into `into` the response (0..1) of a pixel whose centre lies `distancePx` beyond an ideal edge blurred by a Gaussian
 * of `sigmaPx`, integrated over the pixel exactly: the normal integral folded with the aperture's two boxes, in closed form.
 */
export function edgeResponse(
  distancePx: number,
  sigmaPx: number,
  aperture: EdgeAperture,
  into: EdgeResponse,
): void {
  const wide = aperture.widePx
  const narrow = aperture.narrowPx
  if (narrow < LEAST_BOX_PX) {
    const sigma = Math.sqrt(sigmaPx * sigmaPx + (narrow * narrow) / 12)
    const a = (distancePx + wide / 2) / sigma
    const b = (distancePx - wide / 2) / sigma
    const da = normalDensity(a)
    const db = normalDensity(b)
    const pa = normalIntegral(a)
    const pb = normalIntegral(b)
    into.value = (sigma * (a * pa + da - b * pb - db)) / wide
    into.byDistance = (pa - pb) / wide
    // A Gaussian's derivative by sigma is sigma times the second derivative by distance.
    into.bySigma = ((da - db) / (sigma * wide)) * sigmaPx
    return
  }
  let value = 0
  let slope = 0
  let curve = 0
  for (let corner = 0; corner < 4; corner += 1) {
    const outer = corner < 2 ? wide : -wide
    const inner = corner % 2 === 0 ? narrow : -narrow
    const sign = outer * inner > 0 ? 1 : -1
    const x = (distancePx + (outer + inner) / 2) / sigmaPx
    const density = normalDensity(x)
    const integral = normalIntegral(x)
    value += sign * 0.5 * sigmaPx * sigmaPx * ((x * x + 1) * integral + x * density)
    slope += sign * sigmaPx * (x * integral + density)
    curve += sign * integral
  }
  const area = wide * narrow
  into.value = value / area
  into.byDistance = slope / area
  into.bySigma = (curve / area) * sigmaPx
}
