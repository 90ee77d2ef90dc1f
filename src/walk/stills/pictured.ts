import { isSamePicture, type PictureSigns } from '../../still/samePicture.js'
import type { StillMeasurement } from '../../measure/stillMeasurement.js'

/** A measured still as far as its picture goes. */
export interface Pictured {
  readonly file: string
  readonly sha256: string
  readonly measurement: Pick<StillMeasurement, 'width' | 'height' | 'blocks'>
}

/** Whether two stills certainly show one picture, by their bytes or the pixels looked at. */
export function isOnePicture(one: Pictured, other: Pictured): boolean {
  return isSamePicture(signsOf(one), signsOf(other))
}

function signsOf({ sha256, measurement: { width, height, blocks = [] } }: Pictured): PictureSigns {
  return { sha256, width, height, blocks }
}

/** How many pixels a still has. */
export function areaPx({ measurement: { width, height } }: Pictured): number {
  return width * height
}
