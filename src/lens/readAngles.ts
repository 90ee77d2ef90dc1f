import type { Contradiction } from './dataSheet.js'
import { fitProjection, type TwoAngles } from './fitProjection.js'
import { projectionRadius, rectilinearAngleDeg } from './projection.js'
import type { Said } from '../sentences.js'
import { lensSays } from './sentences.js'

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
  if (fitted.fit === 'free')
    return readOneAngle(angles.widthPx, angles.horizontalDeg, lensSays['equal-angles'])
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

function contradictionOf(angles: TwoAngles, p: number, fits: boolean): Contradiction {
  const straightDeg = rectilinearAngleDeg(angles.widthPx, angles.horizontalDeg, angles.heightPx)
  const relative = angles.verticalDeg / straightDeg - 1
  if (fits) return { ...lensSays['angles-not-rectilinear'](angles, straightDeg, p), relative }
  const exchanged = { ...angles, horizontalDeg: angles.verticalDeg, verticalDeg: angles.horizontalDeg }
  const areExchanged = fitProjection(exchanged).fit === 'inside'
  return { ...lensSays['angles-fit-no-lens'](angles, straightDeg, p, areExchanged), relative }
}

/** F from one field of view over one side, p = 1 being assumed; from 180 degrees on, where no such lens is, p = 0. */
export function readOneAngle(
  sidePx: number,
  fullAngleDeg: number,
  assumption: (p: number) => Said,
): AngleReading {
  const p = fullAngleDeg < 180 ? 1 : 0
  return {
    p,
    pixelsPerRadian: sidePx / 2 / projectionRadius(p, (fullAngleDeg * Math.PI) / 360)!,
    assumptions: [assumption(p).message],
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
