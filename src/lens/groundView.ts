import type { LensReading } from './dataSheet.js'
import { projectionAngle } from './projection.js'

/** Where a camera's view meets level ground, metres along the ground from below the camera, in the picture's middle column. */
export interface GroundView {
  /** Nearest ground in view; 0 where it sees what lies below itself. */
  readonly beginsM: number
  /** Farthest ground in view; null where it sees up to the horizon or over it. */
  readonly endsM: number | null
}

/** A camera over level ground: its height, how far its axis looks down, and half of what it sees up and down. */
export interface GroundStation {
  readonly mountHeightM: number
  readonly tiltRad: number
  readonly halfVerticalRad: number
}

const QUARTER_TURN = Math.PI / 2

/**
 * Where the view of a camera begins and ends on level ground, or on a level plane `heightM` above it (plain trigonometry: a ray `a` below
 * the horizon falls a height h over h/tan a). Null where it does not see the plane at all: it looks over it, or lies below it.
 */
export function groundView(station: GroundStation, heightM = 0): GroundView | null {
  const dropM = station.mountHeightM - heightM
  const lowest = station.tiltRad + station.halfVerticalRad
  const highest = station.tiltRad - station.halfVerticalRad
  if (!(dropM > 0) || lowest <= 0) return null
  return {
    beginsM: lowest >= QUARTER_TURN ? 0 : dropM / Math.tan(lowest),
    endsM: highest <= 0 ? null : dropM / Math.tan(highest),
  }
}

/** From the lens to a target `alongGroundM` out and `dropM` lower (or higher); all metres. */
export function sightOverGround(alongGroundM: number, dropM: number): number {
  return Math.hypot(alongGroundM, dropM)
}

/** Along the ground to a target `lineOfSightM` from the lens and `dropM` lower; null where none is that near. Metres. */
export function groundUnderSight(lineOfSightM: number, dropM: number): number | null {
  const squared = lineOfSightM ** 2 - dropM ** 2
  return squared < 0 ? null : Math.sqrt(squared)
}

/** Half of what a camera sees up and down, radians: of the lens as read, else of the angle the sheet states; null where neither is told. */
export function halfVerticalRad(reading: LensReading | null, statedDeg: number | null): number | null {
  const lens = reading?.lens ?? null
  if (lens !== null) return projectionAngle(lens.p, lens.centreY / lens.pixelsPerRadian)
  return statedDeg === null ? null : (statedDeg * Math.PI) / 360
}
