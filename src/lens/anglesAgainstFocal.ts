import type { Contradiction, DataSheet } from './dataSheet.js'
import { outsideBy, type FocalReading, type Span } from './readFocalLength.js'
import { lensSays, setupOf } from './sentences.js'

/** Focal lengths on data sheets are nominal, rounded and vary from lens to lens: this project's convention. */
const NOMINAL = 0.05

/**
 * Whether the angles, read as F, agree with the focal length and the sensor, which give F by themselves. Two kinds: an angle that
 * no projection of that focal length gives, and one that the read projection does not give. The angles are gone on with.
 */
export function anglesAgainstFocal(
  sheet: DataSheet,
  focal: FocalReading,
  pixelsPerRadian: number,
): Contradiction | null {
  if (focal.pixelsPerRadian === null) return null
  const setup = setupOf(sheet.focalLengthM!, focal.sensorWidthM!)
  const impossible = impossibleAngle(sheet, focal.pixelsPerRadian, setup)
  if (impossible !== null) return impossible
  const relative = outsideBy(pixelsPerRadian, focal.pixelsPerRadian)
  if (Math.abs(relative) <= NOMINAL) return null
  const middle = (focal.pixelsPerRadian.low + focal.pixelsPerRadian.high) / 2
  return { ...lensSays['angles-against-focal-length'](setup, middle, pixelsPerRadian), relative }
}

/** The stated angle, horizontal before vertical, that lies outside what any member of the family gives. */
function impossibleAngle(sheet: DataSheet, focal: Span, setup: string): Contradiction | null {
  const sides = [
    { deg: sheet.horizontalDeg ?? null, sidePx: sheet.widthPx, across: 'across' },
    { deg: sheet.verticalDeg ?? null, sidePx: sheet.heightPx, across: 'up and down' },
  ]
  for (const { deg, sidePx, across } of sides) {
    if (deg === null) continue
    const generous = possibleAngleDeg(sidePx, {
      low: focal.low * (1 - NOMINAL),
      high: focal.high * (1 + NOMINAL),
    })
    if (deg >= generous.low && deg <= generous.high) continue
    const possible = possibleAngleDeg(sidePx, focal)
    const relative = outsideBy(deg, possible)
    return { ...lensSays['angle-impossible'](setup, possible, deg, across), relative }
  }
  return null
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
