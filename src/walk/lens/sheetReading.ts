import type { LensReading } from '../../lens/dataSheet.js'
import { readDataSheet } from '../../lens/readDataSheet.js'
import type { Walk } from '../read/walk.js'

/** What the walk's data sheet says of the lens, and where it contradicts itself; null where the walk gives no image size to read it with. */
export function sheetReading(walk: Pick<Walk, 'camera'>): LensReading | null {
  const { image, fieldOfViewDeg, focalLengthM, sensor, pixelPitchM } = walk.camera
  if (image === null) return null
  return readDataSheet({
    widthPx: image.width,
    heightPx: image.height,
    horizontalDeg: fieldOfViewDeg?.horizontal ?? null,
    verticalDeg: fieldOfViewDeg?.vertical ?? null,
    focalLengthM,
    sensor,
    pixelPitchM,
  })
}
