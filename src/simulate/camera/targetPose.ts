import type { CameraStation } from './cameraStation.js'
import { cross, type WorldVector } from './worldVector.js'

/** Where a held thing is and how it is turned. Distance from the camera's pupil to its centre, metres; angles in radians. */
export interface TargetPlace {
  readonly distanceM: number
  /** Height of its centre over the ground. */
  readonly heightM: number
  /** To the right of the camera's axis, in the ground plane. */
  readonly bearingRad?: number
  /** Turn about the upright; 0 turns its front to the camera's plumb line. */
  readonly yawRad?: number
  /** Lean of its top away from the camera; 0 is upright. */
  readonly pitchRad?: number
  /** Turn about its own normal, clockwise as seen from the front. */
  readonly rollRad?: number
}

/**
 * Centre (metres) and unit axes of a thing held at a place, seen from the front: `right` to the picture's right and
 * `down` to its foot. Its distance is along the line of sight, so it must not be less than the difference in height.
 */
export function targetPose(
  station: CameraStation,
  place: TargetPlace,
): { centre: WorldVector; right: WorldVector; down: WorldVector } {
  const bearing = place.bearingRad ?? 0
  const drop = station.mountHeightM - place.heightM
  const groundM = Math.sqrt(place.distanceM ** 2 - drop ** 2)
  const centre: WorldVector = [groundM * Math.sin(bearing), groundM * Math.cos(bearing), place.heightM]
  const heading = bearing + (place.yawRad ?? 0)
  const level: WorldVector = [Math.cos(heading), -Math.sin(heading), 0]
  const away: WorldVector = [Math.sin(heading), Math.cos(heading), 0]
  const pitch = place.pitchRad ?? 0
  const upright: WorldVector = [-Math.sin(pitch) * away[0], -Math.sin(pitch) * away[1], -Math.cos(pitch)]
  const roll = place.rollRad ?? 0
  const turned = (a: WorldVector, b: WorldVector, ca: number, cb: number): WorldVector => [
    ca * a[0] + cb * b[0],
    ca * a[1] + cb * b[1],
    ca * a[2] + cb * b[2],
  ]
  return {
    centre,
    right: turned(level, upright, Math.cos(roll), Math.sin(roll)),
    down: turned(upright, level, Math.cos(roll), -Math.sin(roll)),
  }
}

/** The unit normal of a pose, out of its front. */
export function poseNormal(pose: { right: WorldVector; down: WorldVector }): WorldVector {
  return cross(pose.down, pose.right)
}
