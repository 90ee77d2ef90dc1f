import type { MarkMeasurement } from './marks/markMeasurement.js'

/** Angle between the axis and the reference's middle, radians, for a lens of `pixelsPerRadian` at the middle of the still; the mean over a mark's stills. */
export function stillAngleRad(mark: MarkMeasurement, pixelsPerRadian: number): number {
  const angles = mark.stills.map(({ measurement: { corners, width, height } }) => {
    const x = corners.reduce((sum, [each]) => sum + each, 0) / corners.length
    const y = corners.reduce((sum, [, each]) => sum + each, 0) / corners.length
    return Math.atan(Math.hypot(x - width / 2, y - height / 2) / pixelsPerRadian)
  })
  return angles.reduce((sum, angle) => sum + angle, 0) / angles.length
}
