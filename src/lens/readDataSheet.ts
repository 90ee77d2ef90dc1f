import { anglesAgainstFocal } from './anglesAgainstFocal.js'
import type { CameraLens } from './cameraLens.js'
import type { DataSheet, LensReading } from './dataSheet.js'
import {
  projectionAngle,
  radialPixelsPerRadian,
  tangentialPixelsPerRadian,
  rectilinearPixelsPerRadian,
} from './projection.js'
import { readOneAngle, readTwoAngles, type AngleReading } from './readAngles.js'
import { readFocalLength, type FocalReading } from './readFocalLength.js'
import { fault } from '../sentences.js'
import { lensSays } from './sentences.js'

/**
 * Reads a lens out of a data sheet, and every way in which the sheet contradicts itself. With both fields of view and
 * square pixels p and F follow; with one, p = 1 is assumed; with none, F is the focal length over the pixel pitch. Angles win over focal
 * lengths.
 * @throws `ProofwalkError` `sheet-number` where a number is no size or angle
 */
export function readDataSheet(sheet: DataSheet): LensReading {
  checkNumbers(sheet)
  const focal = readFocalLength(sheet)
  const angles = readAngles(sheet)
  const read = angles ?? readFocal(focal)
  const lens: CameraLens | null =
    read === null
      ? null
      : {
          p: read.p,
          pixelsPerRadian: read.pixelsPerRadian,
          centreX: sheet.widthPx / 2,
          centreY: sheet.heightPx / 2,
        }
  const against = angles === null ? null : anglesAgainstFocal(sheet, focal, angles.pixelsPerRadian)
  return {
    lens,
    readFrom:
      read === null
        ? null
        : angles === null
          ? 'focal-length'
          : bothGiven(sheet)
            ? 'both-angles'
            : 'one-angle',
    edgePixelsPerRadian: lens === null ? null : edgePixelsPerRadian(lens, sheet.widthPx),
    rectilinearPixelsPerRadian: rectilinearOf(sheet, focal),
    assumptions: read?.assumptions ?? [],
    contradictions: [
      ...(read?.contradictions ?? []),
      ...(against === null ? [] : [against]),
      ...focal.contradictions,
    ],
  }
}

function bothGiven(sheet: DataSheet): boolean {
  return Boolean(sheet.horizontalDeg) && Boolean(sheet.verticalDeg)
}

function readAngles(sheet: DataSheet): AngleReading | null {
  const { widthPx, heightPx, horizontalDeg, verticalDeg } = sheet
  if (horizontalDeg && verticalDeg) return readTwoAngles({ widthPx, heightPx, horizontalDeg, verticalDeg })
  if (horizontalDeg)
    return readOneAngle(widthPx, horizontalDeg, (p) => lensSays['one-angle'](p, 'horizontal'))
  if (verticalDeg) return readOneAngle(heightPx, verticalDeg, (p) => lensSays['one-angle'](p, 'vertical'))
  return null
}

function readFocal(focal: FocalReading): AngleReading | null {
  const span = focal.pixelsPerRadian
  if (span === null) return null
  const spread = span.high / span.low - 1
  return {
    p: 1,
    pixelsPerRadian: (span.low + span.high) / 2,
    assumptions: [
      lensSays['no-angle']().message,
      ...(spread > 1e-9 ? [lensSays['inch-type-spread'](spread / 2).message] : []),
    ],
    contradictions: [],
  }
}

function rectilinearOf(sheet: DataSheet, focal: FocalReading): number | null {
  if (sheet.horizontalDeg) return rectilinearPixelsPerRadian(sheet.widthPx, sheet.horizontalDeg)
  if (sheet.verticalDeg) return rectilinearPixelsPerRadian(sheet.heightPx, sheet.verticalDeg)
  return focal.pixelsPerRadian === null ? null : (focal.pixelsPerRadian.low + focal.pixelsPerRadian.high) / 2
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
