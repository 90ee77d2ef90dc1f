import type { LensReading } from '../../lens/dataSheet.js'
import { readDataSheet } from '../../lens/readDataSheet.js'
import type { Walk } from '../read/walk.js'
import { sensor } from '../schemas/fieldSchemas.js'
import type { MeasuredWalk } from '../schemas/resultsSchema.js'

type SheetCamera = Pick<
  Walk['camera'],
  'image' | 'fieldOfViewDeg' | 'focalLengthM' | 'sensor' | 'pixelPitchM'
>

/** What the walk's data sheet says of the lens, and where it contradicts itself; null where the walk gives no image size to read it with. */
export function sheetReading(walk: { readonly camera: SheetCamera }): LensReading | null {
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

/** The same of a walk as its results keep it. */
export function sheetReadingOfResults({ camera }: MeasuredWalk): LensReading | null {
  return sheetReading({
    camera: {
      image: camera.image,
      fieldOfViewDeg: camera.fieldOfView,
      focalLengthM: camera.focalLength,
      sensor: camera.sensor === null ? null : (sensor.safeParse(camera.sensor).data ?? null),
      pixelPitchM: camera.pixelPitch,
    },
  })
}

/** The reading as far as something may be foretold by it: a lens in doubt is none. */
export function foretelling(reading: LensReading | null): LensReading | null {
  if (reading?.inDoubt !== true) return reading
  const nothing = { lens: null, bounds: null, edgePixelsPerRadian: null, rectilinearPixelsPerRadian: null }
  return { ...reading, ...nothing, readings: [] }
}
