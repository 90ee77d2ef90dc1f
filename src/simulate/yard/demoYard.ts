import { boardedWall, hullPaint, netPaint, timberPaint, wheelhousePaint } from './demoPaints.js'
import { hullBody, type HullShape } from './hullBody.js'
import { plainPaint, type BodyPaint, type SceneBody } from './sceneBody.js'
import { ballBody, boxBody, postBody } from './simpleBodies.js'
import type { WorldVector } from '../camera/worldVector.js'

/** Where the lamp of the yard hangs, metres; its post stands beside the slip. */
export const LAMP_HEAD: WorldVector = [2.75, 6.6, 4.3]

const TIMBER = timberPaint([0.3, 0.22, 0.14])
const GREY_STEEL = plainPaint(0.2, 0.21, 0.22)

/** Everything solid in the demonstration's yard: kerbs, net store, hulls on trestles, lamp post, gear, a jetty and a boat afloat. */
export function demoYard(): readonly SceneBody[] {
  return [
    ...kerbs(),
    ...netStore(),
    ...boatOnTrestles(
      { stern: [8.9, 17.6, 0.55], headingRad: Math.PI + 0.34, lengthM: 8.2, beamM: 2.7, depthM: 1.65 },
      hullPaint([0.34, 0.07, 0.05], [0.72, 0.71, 0.67], 1.25, 1.93),
      { from: [6.9, 12.6, 2.1], to: [8.7, 14.9, 3.6], side: [0.62, 0.6, 0.52] },
    ),
    ...boatOnTrestles(
      { stern: [-7.1, 20.9, 0.5], headingRad: Math.PI - 0.16, lengthM: 6.4, beamM: 2.3, depthM: 1.35 },
      hullPaint([0.1, 0.13, 0.12], [0.07, 0.19, 0.33], 1.0, 1.62),
      { from: [-7.6, 17.3, 1.75], to: [-6.3, 19.0, 2.85], side: [0.66, 0.63, 0.55] },
    ),
    ...lampPost(),
    ...gear(),
    ...afloat(),
  ]
}

function kerbs(): SceneBody[] {
  const stone: BodyPaint = (at, _footprintM, out) => {
    const joint = Math.abs(at[1] / 1.5 - Math.round(at[1] / 1.5)) < 0.012 ? 0.5 : 1
    out.red = 0.36 * joint
    out.green = 0.35 * joint
    out.blue = 0.32 * joint
  }
  return [
    boxBody([-3.62, 1, 0], [-3.4, 21.5, 0.14], stone),
    boxBody([3.4, 1, 0], [3.62, 21.5, 0.14], stone),
    boxBody([-60, 21.1, 0], [-3.62, 21.5, 0.22], stone),
    boxBody([3.62, 21.1, 0], [60, 21.5, 0.22], stone),
  ]
}

function netStore(): SceneBody[] {
  return [
    boxBody([-9, 4.2, 0], [-7.2, 14.5, 3.1], boardedWall(9.4, 10.6)),
    boxBody([-9.4, 4, 3.1], [-6.85, 14.8, 3.24], plainPaint(0.3, 0.3, 0.3)),
    boxBody([-7.2, 11.4, 1.1], [-7.14, 12.5, 2.0], plainPaint(0.05, 0.07, 0.08)),
    boxBody([-7.2, 11.3, 1.0], [-7.12, 12.6, 1.1], plainPaint(0.5, 0.49, 0.46)),
    ballBody([-6.75, 13.4, 0.1], 0.55, netPaint([0.12, 0.2, 0.16])),
    ballBody([-6.5, 12.7, -0.1], 0.6, netPaint([0.25, 0.16, 0.08])),
    ballBody([-6.9, 8.9, 0.22], 0.24, plainPaint(0.62, 0.2, 0.04)),
    ballBody([-6.6, 8.5, 0.22], 0.24, plainPaint(0.62, 0.2, 0.04)),
    ballBody([-6.95, 8.2, 0.2], 0.21, plainPaint(0.66, 0.6, 0.5)),
  ]
}

interface Wheelhouse {
  readonly from: WorldVector
  readonly to: WorldVector
  readonly side: readonly [number, number, number]
}

function boatOnTrestles(shape: HullShape, paint: BodyPaint, house: Wheelhouse): SceneBody[] {
  const { stern, headingRad, lengthM, beamM, depthM } = shape
  const [cos, sin] = [Math.cos(headingRad), Math.sin(headingRad)]
  const place = (x: number, y: number, z: number): WorldVector => [
    stern[0] + x * cos + y * sin,
    stern[1] - x * sin + y * cos,
    z,
  ]
  const props = [0.12, 0.4, 0.66].flatMap((share) =>
    [-1, 1].map((side) =>
      postBody(
        place(side * (beamM / 2 + 0.35), share * lengthM, 0),
        place(side * (beamM / 2 - 0.08), share * lengthM, stern[2] + depthM * 0.8),
        0.055,
        TIMBER,
      ),
    ),
  )
  const blocks = [0.15, 0.42, 0.68].map((share) => {
    const [x, y] = place(0, share * lengthM, 0)
    return boxBody([x - 0.4, y - 0.14, 0], [x + 0.4, y + 0.14, stern[2] + 0.05], TIMBER)
  })
  const mast = place(0, lengthM * 0.62, 0)
  const windows = house.from[2] + (house.to[2] - house.from[2]) * 0.55
  return [
    hullBody(shape, paint),
    ...props,
    ...blocks,
    boxBody(house.from, house.to, wheelhousePaint(house.side, windows, house.to[2] - 0.16, 0.55)),
    boxBody(
      [house.from[0] - 0.1, house.from[1] - 0.1, house.to[2]],
      [house.to[0] + 0.1, house.to[1] + 0.1, house.to[2] + 0.07],
      plainPaint(0.5, 0.48, 0.42),
    ),
    postBody(
      [mast[0], mast[1], stern[2] + depthM * 0.9],
      [mast[0] + 0.05, mast[1] + 0.25, stern[2] + depthM + 4.6],
      0.06,
      timberPaint([0.42, 0.31, 0.18]),
    ),
  ]
}

function lampPost(): SceneBody[] {
  const [x, y, z] = LAMP_HEAD
  return [
    postBody([4.1, y, 0], [4.1, y, z + 0.2], 0.06, GREY_STEEL),
    postBody([4.1, y, 0], [4.1, y, 0.5], 0.1, GREY_STEEL),
    boxBody([x, y - 0.035, z + 0.13], [4.1, y + 0.035, z + 0.2], GREY_STEEL),
    boxBody([x - 0.24, y - 0.13, z], [x + 0.24, y + 0.13, z + 0.13], plainPaint(0.5, 0.5, 0.48)),
  ]
}

function gear(): SceneBody[] {
  const box = (x: number, y: number, z: number, paint: BodyPaint): SceneBody =>
    boxBody([x, y, z], [x + 0.8, y + 0.5, z + 0.3], paint)
  const blue = plainPaint(0.06, 0.16, 0.3)
  const ochre = plainPaint(0.5, 0.33, 0.08)
  const iron = plainPaint(0.09, 0.09, 0.1)
  return [
    box(5.3, 9.2, 0, blue),
    box(5.36, 9.22, 0.3, ochre),
    box(5.32, 9.18, 0.6, blue),
    box(6.3, 9.4, 0, ochre),
    postBody([-4.5, 15.2, 0], [-4.5, 15.2, 0.88], 0.29, plainPaint(0.1, 0.24, 0.2)),
    postBody([-5.15, 15.0, 0], [-5.15, 15.0, 0.88], 0.29, plainPaint(0.3, 0.1, 0.06)),
    postBody([-4.1, 20.9, 0.2], [-4.1, 20.9, 0.62], 0.16, iron),
    ballBody([-4.1, 20.9, 0.66], 0.2, iron),
    postBody([4.1, 20.9, 0.2], [4.1, 20.9, 0.62], 0.16, iron),
    ballBody([4.1, 20.9, 0.66], 0.2, iron),
    boxBody([-5.9, 10.0, 0.42], [-4.7, 10.12, 0.5], TIMBER),
    boxBody([-5.8, 9.9, 0], [-5.72, 10.2, 0.42], TIMBER),
    boxBody([-4.88, 9.9, 0], [-4.8, 10.2, 0.42], TIMBER),
  ]
}

function afloat(): SceneBody[] {
  const piles = [30, 36, 42, 48].flatMap((y) =>
    [-13.6, -11.6].map((x) => postBody([x, y, -1.2], [x, y, 0.7], 0.14, timberPaint([0.16, 0.13, 0.1]))),
  )
  return [
    boxBody([-13.5, 21.5, -0.25], [-11.7, 50, -0.05], timberPaint([0.34, 0.29, 0.22])),
    ...piles,
    hullBody(
      { stern: [5, 58, -1.3], headingRad: 1.9, lengthM: 9, beamM: 3, depthM: 1.8 },
      hullPaint([0.3, 0.06, 0.05], [0.7, 0.7, 0.68], -0.8, 0.3),
    ),
    boxBody([8.5, 55.4, 0.4], [11.2, 57.3, 2.2], wheelhousePaint([0.66, 0.64, 0.58], 1.3, 1.9, 0.6)),
    postBody([8.2, 56.6, 0.5], [8.2, 56.6, 6.5], 0.09, TIMBER),
    ballBody([-4.5, 40, -0.85], 0.35, plainPaint(0.62, 0.2, 0.04)),
  ]
}
