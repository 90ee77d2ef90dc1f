import type { MarkMeasurement } from './markMeasurement.js'

/**
 * Where the middle of a mark's reference is seen, radians to the right of the picture's middle and below it, by the mark's own density times
 * its distance for the pixels of a radian: exact near the middle of any lens, and enough to tell two walks' directions apart.
 */
export function markDirection(mark: MarkMeasurement): {
  readonly acrossRad: number
  readonly downRad: number
} {
  const known = [mark.axes.horizontal, mark.axes.vertical, mark.axes.along].filter((axis) => axis !== null)
  const pixelsPerRadian = Math.max(...known.map(({ densityPxPerM }) => densityPxPerM)) * mark.lineOfSightM
  const offsets = mark.stills.map(({ measurement: { corners, width, height } }) => {
    const mean = (of: 0 | 1): number => corners.reduce((sum, point) => sum + point[of], 0) / corners.length
    return [mean(0) - width / 2, mean(1) - height / 2] as const
  })
  const meanOf = (of: 0 | 1): number => offsets.reduce((sum, each) => sum + each[of], 0) / offsets.length
  return { acrossRad: meanOf(0) / pixelsPerRadian, downRad: meanOf(1) / pixelsPerRadian }
}

/** Angle between the axis and the reference's middle, radians, for a lens of `pixelsPerRadian` at the middle of the still; the mean over a mark's stills. */
export function stillAngleRad(mark: MarkMeasurement, pixelsPerRadian: number): number {
  const angles = mark.stills.map(({ measurement: { corners, width, height } }) => {
    const x = corners.reduce((sum, [each]) => sum + each, 0) / corners.length
    const y = corners.reduce((sum, [, each]) => sum + each, 0) / corners.length
    return Math.atan(Math.hypot(x - width / 2, y - height / 2) / pixelsPerRadian)
  })
  return angles.reduce((sum, angle) => sum + angle, 0) / angles.length
}
