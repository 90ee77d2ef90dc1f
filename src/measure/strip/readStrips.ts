import type { ChartPaper } from '../../chart/printed/chartPapers.js'
import type { FlatView } from '../../lens/flatView.js'
import type { Homography } from '../../math/homography.js'
import type { Raster } from '../../still/raster.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import type { Problem, RoseK, StripDetail, StripFigure, ToneElement } from '../stillMeasurement.js'
import { findSheet } from './findSheet.js'
import { PIECE_COUNT, placeStrip, readStrip, type StripReading } from './readStrip.js'
import { stripSays } from './sentences.js'
import { seeStrip, type SeenStrip } from './seenStrip.js'
import { offsetPlane, sheetPlane, type LinearPicture } from './sheetPlane.js'
import { BAND_NODES } from './stripBands.js'
import { isCovered } from './stripCover.js'
import { areaUnder, FAINT_SWING, figureOf, PIECES_COVERAGE, responseOf } from './stripFigures.js'
import { LEAST_STRIP_K, matchedK } from './stripK.js'
import { stripNoise } from './stripNoise.js'
import { stripSigns } from './stripSigns.js'

/** Where the sheet of strips lies in a still: the plane it is on, in its own modules, of `moduleM` metres. */
export interface StripSheet {
  readonly map: Homography
  /** The flat view that `map` leads to; null where to the still itself. */
  readonly view: FlatView | null
  readonly paper: ChartPaper
  readonly moduleM: number
}

/** What strips told, and their signs of processing in words. */
export interface ReadStrips {
  readonly strip: StripDetail
  readonly problems: readonly Problem[]
}

/** What must be known to read strips. */
export interface StripConditions {
  readonly elements: readonly ToneElement[]
  /** Linear light of a code value; of any scale. */
  readonly toLight: (code: number) => number
  /** Share of a faint bar that is inked, and how far that may be off (half-width, relative). */
  readonly coverage: number
  readonly coverageRel: number
}

export type NoStrips = 'strip-not-seen' | 'strip-too-small' | 'strip-part-covered' | 'strip-clipped'

/** Clutter that is no sheet correlates with it by 0.35 at most, a sheet in the noise of 160 electrons by 0.7: this project's measurement on simulated stills. */
const LEAST_CORRELATION = 0.5
/** Shorter or lower strips are not read: the bands hang together. This project's measurement on simulated stills. */
const LEAST_LENGTH_PX = 25
const LEAST_HEIGHT_PX = 4
/** Shorter ones tell no signs. */
const LEAST_LENGTH_FOR_SIGNS_PX = 36
const MOST_CLIPPED = 0.02
/** The stroke shown: 0.2 / A. This project's measurement: see the method. */
const STROKE_TIMES_A = 0.2

/**
 * Reads the two strips beside a reference: response to faint and to black bars, area under the first in cycles per metre, k of a stroke of 24 % contrast,
 * signs of processing. Fails, by name, where they are not there, too small, partly hidden or at white.
 */
export function readStrips(
  image: Raster,
  sheet: StripSheet,
  conditions: StripConditions,
): Outcome<ReadStrips, NoStrips> {
  const picture: LinearPicture = { image, light: image.data.map(conditions.toLight) }
  const nominal = sheetPlane(sheet.map, sheet.view, image)
  const seen = nominal === null ? null : findSheet(picture, nominal, sheet.paper)
  if (nominal === null || seen === null || seen.correlation < LEAST_CORRELATION)
    return failure(stripSays['strip-not-seen']())
  const plane = offsetPlane(nominal, seen.offset)
  const black = seeStrip(picture, plane, sheet.paper, 'black')
  const faint = seeStrip(picture, plane, sheet.paper, 'faint')
  const place =
    black.lengthPx < LEAST_LENGTH_PX || black.heightPx < LEAST_HEIGHT_PX
      ? null
      : placeStrip(black.pixels, black.frame)
  if (place === null) return failure(stripSays['strip-too-small']())
  if (black.pixels.clipped > MOST_CLIPPED || faint.pixels.clipped > MOST_CLIPPED)
    return failure(stripSays['strip-clipped']())
  const readings = {
    black: readStrip(black.pixels, black.frame, place),
    faint: readStrip(faint.pixels, faint.frame, place),
  }
  if (readings.black === null || readings.faint === null) return failure(stripSays['strip-too-small']())
  if (isCovered(black, readings.black, true) || isCovered(faint, readings.faint, false))
    return failure(stripSays['strip-part-covered']())
  return success(detailOf({ ...black, reading: readings.black }, readings.faint, sheet, conditions))
}

function detailOf(
  black: SeenStrip & { readonly reading: StripReading },
  faint: StripReading,
  { moduleM }: StripSheet,
  { elements, coverage, coverageRel }: StripConditions,
): ReadStrips {
  const response24 = (left: number | null): number[] => responseOf(faint, coverage, left)
  const response88 = (left: number | null): number[] => responseOf(black.reading, 1, left)
  const density = black.frame.pxPerModule / moduleM
  const aOf = (left: number | null): number => density * areaUnder(response24(left))
  const a = figureOf(aOf)
  const nodes = (of: (left: number | null) => number[]): StripFigure[] =>
    BAND_NODES.map((_, band) => figureOf((left) => of(left)[band]!))
  const strong = nodes(response88)
  const noise = stripNoise(black.pixels, black.reading, black.isLevel)
  // Where a response is squared, its own noise would count as signal.
  const power = (left: number | null): number[] =>
    response88(left).map((value, band) => Math.max(0, value ** 2 - (strong[band]!.U / PIECES_COVERAGE) ** 2))
  const kOf = (strokeM: number, left: number | null): number => {
    const size = { alongPx: strokeM * density, acrossPx: (strokeM * black.pxPerModule.across) / moduleM }
    return matchedK(black.reading.whole.level * FAINT_SWING, size, power(left), noise(left))
  }
  const ks = new Map(
    elements.map(({ gradeId, elementM }) => [gradeId, kept((left) => kOf(elementM, left))] as const),
  )
  const perGrade = <Value>(of: (k: (left: number | null) => number) => Value): Record<string, Value> =>
    Object.fromEntries([...ks].map(([gradeId, k]) => [gradeId, of(k)]))
  const seen = {
    fine: figureOf((left) => fineOf(response24(left)) / fineOf(response88(left))),
    gain: figureOf((left) => response24(left)[0]! / response88(left)[0]!),
    tenth: figureOf((left) => response88(left)[1]! / response88(left)[0]!),
    fifth: figureOf((left) => response88(left)[2]! / response88(left)[0]!),
  }
  const problems = black.lengthPx < LEAST_LENGTH_FOR_SIGNS_PX ? [] : stripSigns(seen, coverageRel)
  const strip = {
    frequencies: [...BAND_NODES],
    response24: nodes(response24),
    response88: strong,
    a: a.value,
    aU: Math.hypot(a.U, (2 * a.value * coverageRel) / Math.sqrt(3)),
    k: perGrade((of): RoseK => {
      const { value, U } = figureOf(of)
      return { k: value, U, least: LEAST_STRIP_K }
    }),
    pieces: Array.from({ length: PIECE_COUNT }, (_, piece) => ({
      a: aOf(piece),
      k: perGrade((of) => of(piece)),
    })),
    stroke: a.value > 0 ? STROKE_TIMES_A / a.value : null,
    noise: Math.sqrt(noise(null).variance) / black.reading.whole.level,
    signs: problems.map(({ code }) => code),
  }
  return { strip, problems }
}

/** Worked out once for every piece left out. */
function kept(of: (left: number | null) => number): (left: number | null) => number {
  const known = new Map<number | null, number>()
  return (left) => {
    if (!known.has(left)) known.set(left, of(left))
    return known.get(left)!
  }
}

/** Response at a tenth and at a fifth of a cycle per px. */
function fineOf(response: readonly number[]): number {
  return response[1]! + response[2]!
}
