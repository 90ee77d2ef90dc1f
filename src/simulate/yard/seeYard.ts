import { seeSky, seeWater } from './demoBackdrop.js'
import { describeGround, groundHit } from './demoGround.js'
import type { DemoLight, Irradiance } from './demoLight.js'
import { LAMP_HEAD } from './demoYard.js'
import type { SceneBody, SurfacePoint } from './sceneBody.js'
import type { WorldVector } from '../camera/worldVector.js'

/** What stands in the yard, in which light, seen from where. */
export interface YardView {
  readonly from: WorldVector
  readonly light: DemoLight
  readonly shadows: (x: number, y: number) => number
  readonly pixelsPerRadian: number
}

/** Numbers of what is not a body, told apart so that outlines can be found. */
const SKY = -1
const WATER = -2
const GROUND = -3

/** Reused by every look, so that a look allocates nothing but its points. */
export interface LookScratch {
  readonly surface: SurfacePoint
  readonly fall: Irradiance
}

/** A fresh scratch. */
export function lookScratch(): LookScratch {
  return {
    surface: { nx: 0, ny: 0, nz: 1, red: 0, green: 0, blue: 0 },
    fall: { red: 0, green: 0, blue: 0 },
  }
}

/** The light that comes from a direction, written into `out`; returns the number of what was seen (a body's index, or below 0). */
export function seeYard(
  view: YardView,
  bodies: readonly SceneBody[],
  candidates: readonly number[],
  direction: WorldVector,
  scratch: LookScratch,
  out: Irradiance,
): number {
  const ground = groundHit(view.from, direction)
  let nearest = ground?.distanceM ?? Infinity
  let seen = ground === null ? SKY : ground.kind === 'water' ? WATER : GROUND
  for (const index of candidates) {
    const distance = bodies[index]!.hit(view.from, direction)
    if (distance < nearest) [nearest, seen] = [distance, index]
  }
  if (seen === SKY) {
    seeSky(view.light, direction, out)
    return seen
  }
  const at: WorldVector = [
    view.from[0] + nearest * direction[0],
    view.from[1] + nearest * direction[1],
    view.from[2] + nearest * direction[2],
  ]
  const footprintM = nearest / view.pixelsPerRadian
  if (seen === WATER) {
    seeWater(view.light, at, direction, footprintM, out)
    return seen
  }
  const { surface, fall } = scratch
  if (seen === GROUND) {
    const slanted = footprintM / Math.sqrt(Math.max(0.01, -direction[2]))
    describeGround(ground!.kind, at, slanted, surface)
    view.light.fallsOn(at, surface, view.shadows(at[0], at[1]), fall)
  } else {
    bodies[seen]!.describe(at, footprintM, surface)
    view.light.fallsOn(at, surface, 0, fall)
  }
  out.red = fall.red * surface.red
  out.green = fall.green * surface.green
  out.blue = fall.blue * surface.blue
  if (view.light.name === 'infrared') out.red = infraredReturn(surface) * fall.red
  else if (view.light.name === 'lamp' && isLampFace(at)) glow(out)
  return seen
}

/** How much infrared a painted surface throws back: reds most, blues least, dark paints more than the eye expects. */
function infraredReturn(surface: SurfacePoint): number {
  return 0.03 + 0.62 * surface.red + 0.25 * surface.green + 0.1 * surface.blue
}

function isLampFace(at: WorldVector): boolean {
  return (
    Math.abs(at[0] - LAMP_HEAD[0]) < 0.25 &&
    Math.abs(at[1] - LAMP_HEAD[1]) < 0.15 &&
    Math.abs(at[2] - LAMP_HEAD[2]) < 0.14
  )
}

function glow(out: Irradiance): void {
  out.red = 6
  out.green = 5.2
  out.blue = 3.6
}
