import type { Pose } from './stillMeasurement.js'
import { composeTurns, inverseTurn, turnAbout, type Turn } from './pose/turn.js'

/**
 * Yaw, pitch and roll in degrees of a turn whose columns are a reference's own right, down and far-side normal, in a frame with x right,
 * y down, z away: yaw, then pitch, then roll about the reference's own normal; signs as at `referencePose`.
 */
export function poseAngles(turn: Turn): Pose {
  const yawRad = Math.atan2(turn[2], turn[8])
  const pitchRad = Math.asin(Math.max(-1, Math.min(1, turn[5])))
  const upright = composeTurns(turnAbout(0, yawRad, 0), turnAbout(-pitchRad, 0, 0))
  const inPlane = composeTurns(inverseTurn(upright), turn)
  const degrees = 180 / Math.PI
  return {
    yaw: yawRad * degrees,
    pitch: pitchRad * degrees,
    roll: Math.atan2(inPlane[3], inPlane[0]) * degrees,
  }
}
