import type { LensReading } from '../../lens/dataSheet.js'
import type { Walk } from '../read/walk.js'

/** What walk.yaml does not say and a plan would need, each with the field to write and what it would tell. */
export function planMissing(walk: Walk, reading: LensReading | null): string[] {
  const { camera, references } = walk
  const missing: string[] = []
  if (camera.image === null) {
    missing.push(
      'the size of an exported still, camera.image (proofwalk new --still FILE reads it off one): without it no angle says anything in pixels',
    )
  }
  const hasAngle = camera.fieldOfViewDeg !== null
  const hasFocal = camera.focalLengthM !== null && (camera.sensor !== null || camera.pixelPitchM !== null)
  if (!hasAngle && !hasFocal) {
    missing.push(
      'the field of view, camera.fieldOfView, both angles where the data sheet has them (or focalLength with pixelPitch): without it no density can be foretold',
    )
  } else if (reading !== null && reading.readFrom !== 'both-angles') {
    missing.push(
      'the second angle of camera.fieldOfView: with both it shows whether the lens bends lines, which moves every figure here',
    )
  }
  if (camera.mountHeightM === null || camera.tiltDeg === null) {
    const fields = [
      ...(camera.mountHeightM === null ? ['the height of the camera, camera.mountHeight'] : []),
      ...(camera.tiltDeg === null ? ['its tilt, camera.tilt'] : []),
    ]
    missing.push(`${fields.join(', and ')}: tells where the view begins and ends on the ground`)
  }
  if (camera.mountHeightM !== null && references.every(({ carriedAtM }) => carriedAtM === null)) {
    missing.push(
      `the height at which the ${references[0]!.name} is carried, carriedAt: tells the line of sight against the distance along the ground`,
    )
  }
  if (walk.promises.length === 0) {
    missing.push('what the camera was sold to do, promises: the marks are then chosen around them')
  }
  return missing
}
