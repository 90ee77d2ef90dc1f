import type { Contradiction, Span } from './dataSheet.js'
import type { StatedAngle } from './fitProjection.js'
import { type FocalSpan, outsideBy } from './readFocalLength.js'
import { lensSays } from './sentences.js'

/**
 * How angles, read as F, contradict a focal length and a sensor that no reading of theirs agrees with. Two kinds: an angle that
 * no projection of that focal length gives, and one that the read projection does not give. The angles are gone on with.
 */
export function anglesAgainstFocal(
  angles: readonly (StatedAngle & { readonly across: string })[],
  { written, nominal, setup }: FocalSpan,
  pixelsPerRadian: number,
): Contradiction {
  for (const { deg, px, across } of angles) {
    const generous = possibleAngleDeg(px, nominal)
    if (deg >= generous.low && deg <= generous.high) continue
    const possible = possibleAngleDeg(px, written)
    const relative = outsideBy(deg, possible)
    return { ...lensSays['angle-impossible'](setup, possible, deg, across), relative }
  }
  const middle = (written.low + written.high) / 2
  const relative = outsideBy(pixelsPerRadian, written)
  return { ...lensSays['angles-against-focal-length'](setup, middle, pixelsPerRadian), relative }
}

/** The whole angles, degrees, seen over `sidePx` by lenses of F between two values, from p = 1 (least) to the most any p gives. */
function possibleAngleDeg(sidePx: number, pixelsPerRadian: Span): Span {
  const least = Math.atan(sidePx / 2 / pixelsPerRadian.high)
  return {
    low: (least * 360) / Math.PI,
    high: (widestHalfRad(sidePx / 2 / pixelsPerRadian.low) * 360) / Math.PI,
  }
}

/**
 * The widest half angle whose image can lie at `radius` = r/f: at a given angle the radius is least for the lowest p that still
 * has an image there (p = -1, or beyond 90 degrees the p whose image ends there), so the widest angle follows from that bound.
 */
function widestHalfRad(radius: number): number {
  if (radius <= 1) return Math.asin(radius)
  // Past a quarter turn the lowest p is -(pi/2)/t, where r/f = sin(pi/2)/|p| = 2 t/pi.
  return Math.min(Math.PI, (radius * Math.PI) / 2)
}
