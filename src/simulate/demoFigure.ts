import type { PlanarTarget, Surface, SurfaceSample } from './planarTarget.js'
import { layeredNoise } from './valueNoise.js'

type Colour = readonly [red: number, green: number, blue: number]

/** A limb: a rounded bar from one point to another whose half width runs from `fromR` to `toR`. u to the right of the middle, h up from the ground, metres. */
interface Limb {
  readonly u0: number
  readonly h0: number
  readonly r0: number
  readonly u1: number
  readonly h1: number
  readonly r1: number
  readonly colour: Colour
  readonly infrared: number
  /** Strength of the cloth's folds. */
  readonly folds: number
  /** Reflecting band across the limb between two heights. */
  readonly band?: readonly [lowM: number, highM: number]
}

const TROUSERS: Colour = [0.035, 0.042, 0.055]
const JACKET: Colour = [0.05, 0.075, 0.07]
const BOOTS: Colour = [0.04, 0.03, 0.025]
const SKIN: Colour = [0.5, 0.33, 0.25]
const CAP: Colour = [0.16, 0.05, 0.035]

const limb = (
  from: readonly [number, number, number],
  to: readonly [number, number, number],
  colour: Colour,
  infrared: number,
  folds: number,
  band?: readonly [number, number],
): Limb => ({
  u0: from[0],
  h0: from[1],
  r0: from[2],
  u1: to[0],
  h1: to[1],
  r1: to[2],
  colour,
  infrared,
  folds,
  ...(band === undefined ? {} : { band }),
})

/** What hands do: hold the panel by its sides, or the plate by its ends. */
export interface Grip {
  /** Where the hands are, metres from the middle and over the ground. */
  readonly handsOutM: number
  readonly handsHeightM: number
}

/** Somebody in work clothes, farthest part first; weight on one leg, so that it is no sign of a person but a person. */
function bodyLimbs(grip: Grip): readonly Limb[] {
  const { handsOutM: out, handsHeightM: high } = grip
  const elbow = Math.max(0.34, out - 0.02)
  const elbowHigh = Math.min(1.12, high + 0.02)
  return [
    limb([-0.15, 0.05, 0.052], [-0.175, 0.035, 0.05], BOOTS, 0.1, 0),
    limb([0.12, 0.05, 0.052], [0.165, 0.03, 0.05], BOOTS, 0.1, 0),
    limb([-0.13, 0.1, 0.068], [-0.115, 0.5, 0.08], TROUSERS, 0.22, 0.5, [0.24, 0.3]),
    limb([0.115, 0.1, 0.068], [0.1, 0.5, 0.08], TROUSERS, 0.22, 0.5, [0.24, 0.3]),
    limb([-0.115, 0.48, 0.08], [-0.085, 0.9, 0.105], TROUSERS, 0.22, 0.45),
    limb([0.1, 0.48, 0.08], [0.09, 0.9, 0.105], TROUSERS, 0.22, 0.45),
    limb([-0.04, 0.86, 0.16], [0.04, 0.86, 0.16], JACKET, 0.3, 0.3),
    limb([0, 0.9, 0.185], [0, 1.3, 0.2], JACKET, 0.3, 0.35),
    limb([-0.135, 1.4, 0.085], [0.135, 1.405, 0.085], JACKET, 0.3, 0.3),
    limb([0, 1.46, 0.058], [0, 1.53, 0.058], SKIN, 0.55, 0),
    limb([-0.06, 1.465, 0.055], [0.06, 1.47, 0.055], JACKET, 0.3, 0.3),
    limb([0.004, 1.585, 0.078], [0.006, 1.665, 0.084], SKIN, 0.55, 0.12),
    limb([-0.022, 1.695, 0.074], [0.03, 1.697, 0.074], CAP, 0.3, 0.3),
    limb([-0.06, 1.655, 0.026], [0.066, 1.655, 0.026], CAP, 0.26, 0.2),
    limb([-0.2, 1.38, 0.085], [-elbow, elbowHigh, 0.062], JACKET, 0.3, 0.5),
    limb([0.2, 1.38, 0.085], [elbow, elbowHigh, 0.062], JACKET, 0.3, 0.5),
    limb([-elbow, elbowHigh, 0.062], [-out - 0.012, high - 0.03, 0.045], JACKET, 0.3, 0.5),
    limb([elbow, elbowHigh, 0.062], [out + 0.012, high - 0.03, 0.045], JACKET, 0.3, 0.5),
  ]
}

/** The hands alone, which come before what they hold. */
function handLimbs(grip: Grip): readonly Limb[] {
  const { handsOutM: out, handsHeightM: high } = grip
  return [-1, 1].flatMap((side) => [
    limb(
      [side * (out + 0.016), high - 0.03, 0.036],
      [side * (out + 0.012), high + 0.02, 0.034],
      SKIN,
      0.5,
      0,
    ),
    limb(
      [side * (out + 0.008), high + 0.02, 0.014],
      [side * (out - 0.022), high + 0.035, 0.011],
      SKIN,
      0.5,
      0,
    ),
  ])
}

const FIGURE_HALF_WIDTH_M = 0.62
const FIGURE_HEIGHT_M = 1.82
/** How much more than matt white a reflecting band throws back to a lamp beside the lens. */
const BAND_RETURN = 9

/** The part of a figure to draw. `feetU`, `grip` in metres; `infrared`: under the camera's own lamp. */
export interface FigureRequest {
  readonly part: 'body' | 'hands'
  readonly grip: Grip
  readonly infrared: boolean
}

/** The look of a figure on an upright plane whose middle stands `middleHeightM` over the ground at its feet. */
export function figureSurface(request: FigureRequest, middleHeightM: number): Surface {
  const limbs = request.part === 'body' ? bodyLimbs(request.grip) : handLimbs(request.grip)
  return (u, v, boxU, boxV, out) => {
    const height = middleHeightM - v
    const box = (boxU + boxV) / 2
    out.red = out.green = out.blue = out.coverage = 0
    for (const part of limbs) drawLimb(part, u, height, box, request.infrared, out)
  }
}

/** The plane a whole figure is drawn on, given its upright pose at the feet. */
export const FIGURE_EXTENT: Pick<PlanarTarget, 'halfWidthM' | 'halfHeightM'> = {
  halfWidthM: FIGURE_HALF_WIDTH_M,
  halfHeightM: FIGURE_HEIGHT_M / 2,
}

/** Lays one limb over what is there. */
function drawLimb(
  part: Limb,
  u: number,
  height: number,
  box: number,
  infrared: boolean,
  out: SurfaceSample,
): void {
  const [du, dh] = [part.u1 - part.u0, part.h1 - part.h0]
  const t = Math.max(0, Math.min(1, ((u - part.u0) * du + (height - part.h0) * dh) / (du * du + dh * dh)))
  const radius = part.r0 + (part.r1 - part.r0) * t
  const [offU, offH] = [u - part.u0 - t * du, height - part.h0 - t * dh]
  const off = Math.hypot(offU, offH)
  if (off > radius + box) return
  const coverage = Math.max(0, Math.min(1, 0.5 + (radius - off) / box))
  if (coverage === 0) return
  // Round: the light comes from above left of the camera.
  const side = offU / radius
  const up = offH / radius
  const front = Math.sqrt(Math.max(0, 1 - side * side - up * up))
  let shade = 0.38 + 0.62 * Math.max(0, 0.8 * front - 0.34 * side + 0.38 * up)
  if (part.folds > 0) {
    const fold = layeredNoise(u * 9 + part.u0 * 50, height * 15 + u * 6, 113, 3, box * 15) - 0.5
    shade *= 1 + part.folds * 1.3 * fold
  }
  const band = part.band !== undefined && height > part.band[0] && height < part.band[1]
  const bandLevel = infrared ? BAND_RETURN : 0.45
  const grey = part.infrared * shade
  const red = band ? bandLevel : infrared ? grey : part.colour[0] * shade
  const green = band ? bandLevel : infrared ? grey : part.colour[1] * shade
  const blue = band ? bandLevel : infrared ? grey : part.colour[2] * shade
  const under = out.coverage * (1 - coverage)
  const total = coverage + under
  out.red = (red * coverage + out.red * under) / total
  out.green = (green * coverage + out.green * under) / total
  out.blue = (blue * coverage + out.blue * under) / total
  out.coverage = total
}
