import { bodyGarments, handGarments, type Garment, type Grip } from './demoGarments.js'
import { shareWithin, type PlanarTarget, type Surface, type SurfaceSample } from '../camera/planarTarget.js'
import { layeredNoise } from '../yard/valueNoise.js'
import { power } from '../../math/power.js'

const HALF_WIDTH_M = 0.62
const HEIGHT_M = 1.82
/** How many times matt white a reflecting band throws back to a lamp beside the lens, and by other light. */
const BAND_UNDER_INFRARED = 9
const BAND_OTHERWISE = 0.45
/** Limbs of one garment run into one another over this distance, metres. */
const BLEND_M = 0.03

/** The part of a figure to draw; `infrared`: under the camera's own lamp. */
export interface FigureRequest {
  readonly part: 'body' | 'hands'
  readonly grip: Grip
  readonly infrared: boolean
}

/** The upright plane a figure is drawn on: its middle stands half its height over the ground at its feet. */
export const FIGURE_EXTENT: Pick<PlanarTarget, 'halfWidthM' | 'halfHeightM'> = {
  halfWidthM: HALF_WIDTH_M,
  halfHeightM: HEIGHT_M / 2,
}

/** The look of somebody in work clothes who holds something before them. */
export function figureSurface(request: FigureRequest): Surface {
  const garments = request.part === 'body' ? bodyGarments(request.grip) : handGarments(request.grip)
  return (u, v, boxU, boxV, out) => {
    const height = HEIGHT_M / 2 - v
    const box = (boxU + boxV) / 2
    out.red = out.green = out.blue = out.coverage = 0
    for (const garment of garments) {
      const { left, right, low, high } = garment.bounds
      if (u < left - box || u > right + box || height < low - box || height > high + box) continue
      drawGarment(garment, u, height, box, request.infrared, out)
    }
  }
}

/** Lays one garment over what is there. */
function drawGarment(
  garment: Garment,
  u: number,
  height: number,
  box: number,
  infrared: boolean,
  out: SurfaceSample,
): void {
  // Limbs run together: distances blended by a soft minimum, the slope with them.
  let [sum, slopeU, slopeH] = [0, 0, 0]
  for (const limb of garment.limbs) {
    const [du, dh] = [limb.u1 - limb.u0, limb.h1 - limb.h0]
    const along = ((u - limb.u0) * du + (height - limb.h0) * dh) / (du * du + dh * dh)
    const t = along < 0 ? 0 : along > 1 ? 1 : along
    const [offU, offH] = [u - limb.u0 - t * du, height - limb.h0 - t * dh]
    const off = Math.sqrt(offU * offU + offH * offH)
    const weight = Math.exp((limb.r0 + (limb.r1 - limb.r0) * t - off) / BLEND_M)
    sum += weight
    if (off > 1e-9) {
      slopeU += (weight * offU) / off
      slopeH += (weight * offH) / off
    }
  }
  let inside = BLEND_M * Math.log(sum)
  if (garment.hemM !== undefined) inside = Math.min(inside, height - garment.hemM)
  const coverage = Math.max(0, Math.min(1, 0.5 + inside / box))
  if (coverage === 0) return
  const slope = Math.hypot(slopeU, slopeH) || 1
  const turned = power(Math.max(0, 1 - Math.max(0, inside) / garment.roundM), 1.5)
  const [side, up] = [(slopeU / slope) * turned, (slopeH / slope) * turned]
  const front = Math.sqrt(Math.max(0, 1 - side * side - up * up))
  let shade = 0.42 + 0.58 * Math.max(0, 0.86 * front - 0.3 * side + 0.3 * up)
  if (garment.folds > 0) {
    const broad = layeredNoise(u * 7 + garment.salt, height * 11 + u * 8, 113, 3, box * 12) - 0.5
    const drape = layeredNoise(u * 26 + garment.salt, height * 3.2 - u * 7, 127, 2, box * 26) - 0.5
    shade *= 1 + garment.folds * (1.1 * broad + 0.7 * drape)
  }
  if (garment.seamU !== undefined && Math.abs(u - garment.seamU) < 0.006 + box / 2) shade *= 0.72
  const banded = Math.max(0, ...garment.bands.map(([low, high]) => shareWithin(height, box, low, high)))
  const band = infrared ? BAND_UNDER_INFRARED : BAND_OTHERWISE * shade
  const [red, green, blue] = infrared
    ? [garment.infrared, garment.infrared, garment.infrared]
    : garment.colour
  const mixed = (level: number): number => band * banded + level * shade * (1 - banded)
  const under = out.coverage * (1 - coverage)
  const total = coverage + under
  out.red = (mixed(red) * coverage + out.red * under) / total
  out.green = (mixed(green) * coverage + out.green * under) / total
  out.blue = (mixed(blue) * coverage + out.blue * under) / total
  out.coverage = total
}
