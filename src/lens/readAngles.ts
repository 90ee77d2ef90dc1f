import { anglesAgainstFocal } from './anglesAgainstFocal.js'
import type { Contradiction, DataSheet, LensRemark, Span } from './dataSheet.js'
import {
  fitProjection,
  pixelsPerRadianSeeing,
  projectionSeeing,
  projectionsOf,
  type StatedAngle,
} from './fitProjection.js'
import { rectilinearAngleDeg } from './projection.js'
import type { FocalSpan } from './readFocalLength.js'
import { type AnglesAcross, lensSays } from './sentences.js'

/** What a sheet's figures were read as. */
export interface SheetLens {
  readonly p: number
  readonly pixelsPerRadian: number
  /** What the written digits leave of F. */
  readonly bounds: Span
  readonly readings: readonly LensRemark[]
  readonly contradictions: readonly Contradiction[]
}

type NamedAngle = StatedAngle & { readonly across: string }

/** From this p on a lens is called one that draws straight lines straight: this project's convention. */
export const NEARLY_STRAIGHT = 0.999

/**
 * p and F of the member of the projection family that agrees with all that the sheet says, within what its written digits leave: with both fields of
 * view and square pixels both follow; with one, p = 1 is assumed, unless a focal length tells another. Where rounding leaves a lens that draws straight
 * lines straight possible, that one is read. Null where the sheet states no angle.
 */
export function readAngles(sheet: DataSheet, focal: FocalSpan | null): SheetLens | null {
  const angles = statedAngles(sheet)
  const [one, other] = angles
  if (one === undefined) return null
  const read = other === undefined ? readOne(one) : readTwo(one, other)
  if (focal === null) return read
  const shared = overlap(read.possible ?? read.bounds, focal.nominal)
  if (shared === null) {
    const against = anglesAgainstFocal(angles, focal, read.pixelsPerRadian)
    return { ...read, contradictions: [...read.contradictions, against] }
  }
  const { pixelsPerRadian: F } = read
  if (F >= focal.nominal.low && F <= focal.nominal.high) return { ...read, bounds: hull(shared, F) }
  // The angles' own middle does not agree with the focal length, but what their rounding leaves does.
  const middle = (focal.written.low + focal.written.high) / 2
  const pixelsPerRadian = Math.min(shared.high, Math.max(shared.low, middle))
  const p = projectionSeeing(one, pixelsPerRadian)
  const bends = read.possible === undefined ? read.readings : [lensSays['bent-by-focal-length'](one, p)]
  return { ...read, p, pixelsPerRadian, bounds: shared, readings: bends }
}

/** The angles a sheet states, the horizontal (or the diagonal in its place) before the vertical. */
function statedAngles(sheet: DataSheet): NamedAngle[] {
  const { widthPx, heightPx, horizontalDeg, verticalDeg, diagonalDeg } = sheet
  return [
    ...(diagonalDeg
      ? [{ deg: diagonalDeg, px: Math.hypot(widthPx, heightPx), across: 'from corner to corner' }]
      : []),
    ...(horizontalDeg ? [{ deg: horizontalDeg, px: widthPx, across: 'across' }] : []),
    ...(verticalDeg ? [{ deg: verticalDeg, px: heightPx, across: 'up and down' }] : []),
  ]
}

/** `possible`: where p had to be assumed, F of every p. */
type OwnReading = SheetLens & { readonly possible?: Span }

function readOne(angle: NamedAngle, squareStill = false): OwnReading {
  const p = angle.deg < 180 ? 1 : 0
  const [more, less] = [roundedBy(angle, 1), roundedBy(angle, -1)]
  const told = squareStill
    ? lensSays['equal-angles'](p)
    : lensSays['one-angle'](p, angle.across === 'across' ? 'horizontal' : 'vertical')
  return {
    p,
    pixelsPerRadian: pixelsPerRadianSeeing(angle, p),
    bounds: { low: pixelsPerRadianSeeing(more, p), high: pixelsPerRadianSeeing(less, p) },
    possible: {
      low: pixelsPerRadianSeeing(more, projectionsOf(more).high),
      high: pixelsPerRadianSeeing(less, projectionsOf(less).low),
    },
    readings: [told],
    contradictions: [],
  }
}

function readTwo(one: NamedAngle, other: NamedAngle): OwnReading {
  const fitted = fitProjection(one, other)
  if (fitted.fit === 'free') return readOne(one, true)
  const mostBent = fitProjection(...rounded(one, other, 1))
  const leastBent = fitProjection(...rounded(one, other, -1))
  const fits = mostBent.fit !== 'above' && leastBent.fit !== 'below'
  const isStraight = fits && leastBent.p >= NEARLY_STRAIGHT && Math.max(one.deg, other.deg) < 180
  const p = isStraight ? 1 : fitted.p
  const pixelsPerRadian = pixelsPerRadianSeeing(one, p)
  const seen = (by: number, sign: 1 | -1): number[] =>
    [one, other].map((angle) => pixelsPerRadianSeeing(roundedBy(angle, sign), by))
  // F rises with the wide angle and falls with the narrow one: its ends are those of the projection.
  const ends = { low: Math.max(...seen(leastBent.p, 1)), high: Math.min(...seen(mostBent.p, -1)) }
  const straightDeg = rectilinearAngleDeg(one.px, one.deg, other.px)
  const angles = [one, other] as const
  return {
    p,
    pixelsPerRadian,
    bounds: fits ? hull(ends, pixelsPerRadian) : { low: pixelsPerRadian, high: pixelsPerRadian },
    readings: fits && !isStraight ? [lensSays['angles-not-rectilinear'](angles, straightDeg, p)] : [],
    contradictions: fits ? [] : [fitNoLens(angles, straightDeg, p)],
  }
}

function fitNoLens(angles: AnglesAcross, straightDeg: number, p: number): Contradiction {
  const relative = angles[1].deg / straightDeg - 1
  return { ...lensSays['angles-fit-no-lens'](angles, straightDeg, p), relative }
}

function overlap(one: Span, other: Span): Span | null {
  const [low, high] = [Math.max(one.low, other.low), Math.min(one.high, other.high)]
  return low <= high ? { low, high } : null
}

function hull({ low, high }: Span, value: number): Span {
  return { low: Math.min(low, value), high: Math.max(high, value) }
}

function roundedBy<Angle extends StatedAngle>(angle: Angle, sign: 1 | -1): Angle {
  return { ...angle, deg: Math.min(360, angle.deg + sign * writtenRounding(angle.deg)) }
}

/** The angles moved by their rounding towards the greatest (+1) or the least (-1) ratio of wide to narrow, 1 at the least. */
function rounded(one: StatedAngle, other: StatedAngle, towards: 1 | -1): [StatedAngle, StatedAngle] {
  const sign = one.deg >= other.deg ? towards : towards === 1 ? -1 : 1
  const [moved, against] = [roundedBy(one, sign), roundedBy(other, sign === 1 ? -1 : 1)]
  if (moved.deg >= against.deg === one.deg >= other.deg) return [moved, against]
  const deg = (moved.deg + against.deg) / 2
  return [
    { ...one, deg },
    { ...other, deg },
  ]
}

/** Numbers are not written finer than this: closer is the rounding of arithmetic, not of a data sheet. */
const FINEST = 1e-6

/** Half a unit of the last digit a number was written with: how far rounding may have moved it. 52 gives 0.5, 52.3 gives 0.05. */
export function writtenRounding(value: number): number {
  const digits = /^[^.e]*(?:\.(\d+))?(?:e([+-]?\d+))?$/.exec(String(value))
  const decimals = (digits?.[1]?.length ?? 0) - Number(digits?.[2] ?? 0)
  return Math.max(FINEST, 0.5 * 10 ** -decimals)
}
