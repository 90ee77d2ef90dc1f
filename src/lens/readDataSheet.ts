import type { CameraLens } from './cameraLens.js'
import type { DataSheet, LensReading } from './dataSheet.js'
import { namedSlips } from './namedSlips.js'
import {
  projectionAngle,
  radialPixelsPerRadian,
  tangentialPixelsPerRadian,
  rectilinearPixelsPerRadian,
} from './projection.js'
import { NEARLY_STRAIGHT, readAngles, type SheetLens } from './readAngles.js'
import { type FocalSpan, readFocalLength } from './readFocalLength.js'
import { fault } from '../sentences.js'
import { lensSays } from './sentences.js'

/** Less than this share of F, either way, is not worth a sentence. */
const WORTH_TELLING = 0.001

/**
 * Reads a lens out of a data sheet: the member of the projection family that agrees with its angles, focal length and sensor within what their written digits
 * leave, and every way in which the sheet contradicts itself, with the slip that looks like it. Angles win over focal lengths.
 * @throws `ProofwalkError` `sheet-number` where a number is no size or angle
 */
export function readDataSheet(sheet: DataSheet): LensReading {
  checkNumbers(sheet)
  const asWritten = readOnce(sheet)
  const { slips, rightPitch } =
    asWritten.contradictions.length === 0
      ? { slips: [], rightPitch: null }
      : namedSlips(sheet, asWritten.contradictions.length, readOnce)
  const read = withDiagonal(sheet, asWritten)
  const { lens, bounds } = read
  const left = lens === null || bounds === null ? 0 : (bounds.high - bounds.low) / 2 / lens.pixelsPerRadian
  const digits = left < WORTH_TELLING ? [] : [lensSays['digits-leave'](left)]
  return {
    ...read,
    edgePixelsPerRadian: lens === null ? null : edgePixelsPerRadian(lens, sheet.widthPx),
    readings: [...read.readings, ...digits].map(({ code, message }) => ({ code, message })),
    contradictions: [...slips, ...asWritten.contradictions],
    inDoubt: (rightPitch === null || read.readFrom === 'focal-length'
      ? asWritten
      : readOnce(rightPitch)
    ).contradictions.some(({ code }) => touches(code, read.readFrom)),
  }
}

/** A sheet read as it is written, without a look for slips. */
type Reading = Pick<
  LensReading,
  'lens' | 'bounds' | 'readFrom' | 'rectilinearPixelsPerRadian' | 'readings' | 'contradictions'
>

function readOnce(sheet: DataSheet): Reading {
  const { focal, contradictions } = readFocalLength(sheet)
  const angles = readAngles(sheet, focal)
  const read = angles ?? readFocal(focal)
  const both = Boolean(sheet.horizontalDeg) && Boolean(sheet.verticalDeg)
  const { widthPx, heightPx } = sheet
  return {
    lens:
      read === null
        ? null
        : { p: read.p, pixelsPerRadian: read.pixelsPerRadian, centreX: widthPx / 2, centreY: heightPx / 2 },
    bounds: read?.bounds ?? null,
    readFrom: read === null ? null : angles === null ? 'focal-length' : both ? 'both-angles' : 'one-angle',
    rectilinearPixelsPerRadian: rectilinearOf(sheet, focal),
    readings: read?.readings ?? [],
    contradictions: [...(read?.contradictions ?? []), ...contradictions],
  }
}

/** What contradicts itself in what the lens was read from. */
function touches(code: string, readFrom: LensReading['readFrom']): boolean {
  return readFrom === 'focal-length' ? code === 'sensor-against-pixel-pitch' : code.startsWith('angle')
}

/**
 * A bent lens whose horizontal angle, taken from corner to corner, is that of a plain lens: the two cannot be told apart, so both are named and F is left open
 * between them.
 */
function withDiagonal(sheet: DataSheet, read: Reading): Reading {
  const { horizontalDeg: deg } = sheet
  if (!deg || read.contradictions.length > 0 || read.readFrom !== 'both-angles') return read
  if (read.lens!.p >= NEARLY_STRAIGHT) return read
  const asDiagonal = readOnce({ ...sheet, horizontalDeg: null, diagonalDeg: deg })
  if (asDiagonal.contradictions.length > 0 || asDiagonal.lens!.p < NEARLY_STRAIGHT) return read
  const [one, other] = [read.bounds!, asDiagonal.bounds!]
  return {
    ...read,
    bounds: { low: Math.min(one.low, other.low), high: Math.max(one.high, other.high) },
    readings: [...read.readings, lensSays['may-be-diagonal'](deg)],
  }
}

function readFocal(focal: FocalSpan | null): SheetLens | null {
  if (focal === null) return null
  const { low, high } = focal.written
  const spread = high / low - 1
  return {
    p: 1,
    pixelsPerRadian: (low + high) / 2,
    bounds: focal.nominal,
    readings: [lensSays['no-angle'](), ...(spread > 1e-9 ? [lensSays['inch-type-spread'](spread / 2)] : [])],
    contradictions: [],
  }
}

function rectilinearOf(sheet: DataSheet, focal: FocalSpan | null): number | null {
  if (sheet.horizontalDeg) return rectilinearPixelsPerRadian(sheet.widthPx, sheet.horizontalDeg)
  if (sheet.verticalDeg) return rectilinearPixelsPerRadian(sheet.heightPx, sheet.verticalDeg)
  return focal === null ? null : (focal.written.low + focal.written.high) / 2
}

function edgePixelsPerRadian(lens: CameraLens, widthPx: number): number | null {
  const angleRad = projectionAngle(lens.p, widthPx / 2 / lens.pixelsPerRadian)
  if (angleRad === null) return null
  const radial = radialPixelsPerRadian(lens, angleRad)
  const tangential = tangentialPixelsPerRadian(lens, angleRad)
  return radial === null || tangential === null ? null : Math.min(radial, tangential)
}

function checkNumbers(sheet: DataSheet): void {
  const sides =
    sheet.sensor?.kind === 'size' ? [sheet.sensor.widthM, sheet.sensor.heightM] : [sheet.sensor?.inches]
  const sizes = [sheet.widthPx, sheet.heightPx, sheet.focalLengthM, sheet.pixelPitchM, ...sides]
  const angles = [sheet.horizontalDeg, sheet.verticalDeg]
  const wrong =
    sizes.some((size) => outside(size, Number.MAX_VALUE)) || angles.some((angle) => outside(angle, 360))
  if (wrong) throw fault(lensSays['sheet-number']())
}

function outside(value: number | null | undefined, most: number): boolean {
  return value !== null && value !== undefined && !(value > 0 && value <= most)
}
