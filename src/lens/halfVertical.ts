import type { LensReading } from './dataSheet.js'
import { projectionAngle } from './projection.js'

/** Half of what a camera sees up and down, radians: of the lens as read, else of the angle the sheet states; null where neither is told. */
export function halfVerticalRad(reading: LensReading | null, statedDeg: number | null): number | null {
  const lens = reading?.lens ?? null
  if (lens !== null) return projectionAngle(lens.p, lens.centreY / lens.pixelsPerRadian)
  return statedDeg === null ? null : (statedDeg * Math.PI) / 360
}
