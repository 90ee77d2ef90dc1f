import type { LensReading, Span } from './dataSheet.js'
import { projectionAngle } from './projection.js'

/** What a data sheet, as it was read, gives a target at one distance; densities px/m, widths metres, null where it does not tell. */
export interface MarkPrediction {
  /** In the middle of the picture, target square to the ray. */
  readonly densityPxPerM: number | null
  /** What the sheet's written digits leave of it. */
  readonly boundsPxPerM: Span | null
  /** In the middle of the left or right edge, at the same distance from the lens, square to the ray, in its worse direction. */
  readonly densityAtEdgePxPerM: number | null
  /** In the middle, had the lens drawn straight lines straight. */
  readonly rectilinearDensityPxPerM: number | null
  /** Of the flat scene square to the axis at that distance; null from 180 degrees on, where it has no end. */
  readonly widthOfViewM: number | null
}

/** What a lens reading implies `lineOfSightM` from the lens: density is px per radian over the distance. Distances metres, over 0. */
export function predictMark(reading: LensReading, widthPx: number, lineOfSightM: number): MarkPrediction {
  const at = (pixelsPerRadian: number | null | undefined): number | null =>
    pixelsPerRadian === null || pixelsPerRadian === undefined ? null : pixelsPerRadian / lineOfSightM
  const { lens, bounds } = reading
  const halfRad = lens === null ? null : projectionAngle(lens.p, widthPx / 2 / lens.pixelsPerRadian)
  return {
    densityPxPerM: at(lens?.pixelsPerRadian),
    boundsPxPerM:
      bounds === null ? null : { low: bounds.low / lineOfSightM, high: bounds.high / lineOfSightM },
    densityAtEdgePxPerM: at(reading.edgePixelsPerRadian),
    rectilinearDensityPxPerM: at(reading.rectilinearPixelsPerRadian),
    widthOfViewM: halfRad === null || halfRad >= Math.PI / 2 ? null : 2 * lineOfSightM * Math.tan(halfRad),
  }
}
