import { projectionAngle, radialPixelsPerRadian, tangentialPixelsPerRadian } from './projection.js'

/** Angles off the axis that are looked at, from the middle to the corner. */
const STEPS = 64

/**
 * The greatest pixels per radian of a lens (p, see `CameraLens`) over those of its middle, along the radius or across it, out to `cornerRadius`: how far the picture's
 * corner is from its middle, over F.
 */
export function greatestShare(p: number, cornerRadius: number): number {
  const lens = { p, pixelsPerRadian: 1, centreX: 0, centreY: 0 }
  // A lens that does not reach the corner shows nothing there.
  const cornerRad = projectionAngle(p, cornerRadius) ?? Math.min(Math.PI, Math.PI / 2 / Math.abs(p))
  const shares = Array.from({ length: STEPS + 1 }, (_, step) => {
    const angleRad = (cornerRad * step) / STEPS
    return Math.max(
      radialPixelsPerRadian(lens, angleRad) ?? 0,
      tangentialPixelsPerRadian(lens, angleRad) ?? 0,
    )
  })
  return Math.max(...shares)
}
