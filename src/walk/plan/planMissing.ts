import { isDaylight } from '../../grade/gradings/detailBound.js'
import type { LensReading } from '../../lens/dataSheet.js'
import type { Said } from '../../sentences.js'
import type { Walk } from '../read/walk.js'
import { planSays } from './sentences.js'

/** What walk.yaml does not say and a plan would need, each with the field to write and what it would tell. */
export function planMissing(walk: Walk, reading: LensReading | null): string[] {
  const { camera, references } = walk
  const missing: Said[] = []
  if (camera.image === null) missing.push(planSays['image-missing']())
  const hasAngle = camera.fieldOfViewDeg !== null
  const hasFocal = camera.focalLengthM !== null && (camera.sensor !== null || camera.pixelPitchM !== null)
  if (!hasAngle && !hasFocal) missing.push(planSays['angles-missing']())
  else if (reading !== null && reading.readFrom !== 'both-angles') missing.push(planSays['angle-missing']())
  const [noHeight, noTilt] = [camera.mountHeightM === null, camera.tiltDeg === null]
  if (noHeight || noTilt) missing.push(planSays['mount-missing'](noHeight, noTilt))
  if (!noHeight && references.every(({ carriedAtM }) => carriedAtM === null))
    missing.push(planSays['carried-at-missing'](references[0]!.name))
  const dark = walk.promises.filter(({ kind, light }) => kind === undefined && !isDaylight(light))
  const hasStrips = references.some(
    (one) => one.reference.kind === 'rectangle' && one.reference.strip !== undefined,
  )
  if (walk.judge === 'detail' && dark.length > 0 && !hasStrips)
    missing.push(planSays['strips-missing']([...new Set(dark.map(({ light }) => light))]))
  if (walk.promises.length === 0) missing.push(planSays['promises-missing']())
  return missing.map(({ message }) => message)
}
