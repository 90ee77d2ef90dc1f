import type { Contradiction } from './dataSheet.js'
import { fitProjection, type TwoAngles } from './fitProjection.js'
import { projectionRadius, rectilinearAngleDeg } from './projection.js'

/** What one or two fields of view were read as. */
export interface AngleReading {
  readonly p: number
  readonly pixelsPerRadian: number
  readonly assumptions: readonly string[]
  readonly contradictions: readonly Contradiction[]
}

/** From this p on a lens is called one that draws straight lines straight: this project's convention. */
export const NEARLY_STRAIGHT = 0.999

/**
 * p and F from both fields of view of square pixels. Where the rounding of the written angles leaves a lens that draws straight
 * lines straight possible, that one is read. Where no member of the family has both angles, the nearest is read and F is
 * taken from the horizontal angle.
 */
export function readTwoAngles(angles: TwoAngles): AngleReading {
  const fitted = fitProjection(angles)
  if (fitted.fit === 'free') return readOneAngle(angles.widthPx, angles.horizontalDeg, EQUAL_ANGLES)
  const mostBent = fitProjection(rounded(angles, +1))
  const leastBent = fitProjection(rounded(angles, -1))
  const fits = mostBent.fit !== 'above' && leastBent.fit !== 'below'
  const straightFits =
    fits && leastBent.p >= NEARLY_STRAIGHT && Math.max(angles.horizontalDeg, angles.verticalDeg) < 180
  const p = straightFits ? 1 : fitted.p
  const half = (angles.horizontalDeg * Math.PI) / 360
  return {
    p,
    pixelsPerRadian: angles.widthPx / 2 / projectionRadius(p, half)!,
    assumptions: [],
    contradictions: straightFits ? [] : [contradictionOf(angles, p, fits)],
  }
}

const EQUAL_ANGLES = 'both fields of view are equal on a square still, which tells no projection'

function contradictionOf(angles: TwoAngles, p: number, fits: boolean): Contradiction {
  const written = `${angles.horizontalDeg} by ${angles.verticalDeg} degrees`
  const straightDeg = rectilinearAngleDeg(angles.widthPx, angles.horizontalDeg, angles.heightPx)
  const relative = angles.verticalDeg / straightDeg - 1
  const straight =
    angles.horizontalDeg < 180
      ? `with ${angles.horizontalDeg} degrees over ${angles.widthPx} px, a lens that draws straight lines straight sees ${straightDeg.toFixed(1)} degrees over ${angles.heightPx} px, not ${angles.verticalDeg}`
      : 'no lens that draws straight lines straight sees 180 degrees or more'
  if (fits) {
    const message = `the sheet's ${written} are not those of a plain lens: ${straight}; it is read as a lens that bends them outward (p = ${p.toFixed(2)}), which has both angles`
    return { code: 'angles-not-rectilinear', message, relative }
  }
  const exchanged = { ...angles, horizontalDeg: angles.verticalDeg, verticalDeg: angles.horizontalDeg }
  const hint = fitProjection(exchanged).fit === 'inside' ? ' (are the two exchanged?)' : ''
  const message = `the sheet's ${written} fit no lens with square pixels on ${angles.widthPx} x ${angles.heightPx} px${hint}: ${straight}; the horizontal angle is gone on with, in the nearest lens (p = ${p.toFixed(2)})`
  return { code: 'angles-fit-no-lens', message, relative }
}

/** F from one field of view over one side, p = 1 being assumed; from 180 degrees on, where no such lens is, p = 0. */
export function readOneAngle(sidePx: number, fullAngleDeg: number, why: string): AngleReading {
  const p = fullAngleDeg < 180 ? 1 : 0
  const kind = p === 1 ? 'draws straight lines straight (p = 1)' : 'spreads angles evenly (p = 0)'
  return {
    p,
    pixelsPerRadian: sidePx / 2 / projectionRadius(p, (fullAngleDeg * Math.PI) / 360)!,
    assumptions: [`${why}; a lens that ${kind} is assumed`],
    contradictions: [],
  }
}

/** The angles moved by their rounding towards the greatest (+1) or the least (-1) ratio of wide to narrow, 1 at the least. */
function rounded(angles: TwoAngles, towards: 1 | -1): TwoAngles {
  const { horizontalDeg, verticalDeg } = angles
  const sign = horizontalDeg >= verticalDeg ? towards : -towards
  const movedHorizontal = Math.min(360, horizontalDeg + sign * writtenRounding(horizontalDeg))
  const movedVertical = Math.min(360, verticalDeg - sign * writtenRounding(verticalDeg))
  if (movedHorizontal >= movedVertical === horizontalDeg >= verticalDeg) {
    return { ...angles, horizontalDeg: movedHorizontal, verticalDeg: movedVertical }
  }
  const middle = (movedHorizontal + movedVertical) / 2
  return { ...angles, horizontalDeg: middle, verticalDeg: middle }
}

/** Numbers are not written finer than this: closer is the rounding of arithmetic, not of a data sheet. */
const FINEST = 1e-6

/** Half a unit of the last digit a number was written with: how far rounding may have moved it. 52 gives 0.5, 52.3 gives 0.05. */
export function writtenRounding(value: number): number {
  const digits = /^[^.e]*(?:\.(\d+))?(?:e([+-]?\d+))?$/.exec(String(value))
  const decimals = (digits?.[1]?.length ?? 0) - Number(digits?.[2] ?? 0)
  return Math.max(FINEST, 0.5 * 10 ** -decimals)
}
