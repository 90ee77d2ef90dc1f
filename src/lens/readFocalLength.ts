import type { Contradiction, DataSheet } from './dataSheet.js'
import { inchTypeWidthM } from './inchTypes.js'
import { lensSays } from './sentences.js'

/** A span of values that a sheet allows; both ends equal where it is exact. */
export interface Span {
  readonly low: number
  readonly high: number
}

/** What the sensor, the pixel pitch and the focal length say together. */
export interface FocalReading {
  /** Width of the imager the still's width covers, metres; null where the sheet does not tell. */
  readonly sensorWidthM: Span | null
  /** F = f/pitch, px per radian at the centre, whatever the projection; null without a focal length. */
  readonly pixelsPerRadian: Span | null
  readonly contradictions: readonly Contradiction[]
}

/** Sides and pitches are rounded to about this: this project's convention. */
const ROUNDED = 0.03

/**
 * F from the focal length and the size of a pixel: the pixel pitch where it is given (the still taken to be exported at the imager's own
 * size), else the sensor's width over the still's width. An inch type gives a span. The pitch wins over the sensor.
 */
export function readFocalLength(sheet: DataSheet): FocalReading {
  const told = sensorSpanM(sheet)
  const pitched = sheet.pixelPitchM ? sheet.pixelPitchM * sheet.widthPx : null
  const width = pitched === null ? told : { low: pitched, high: pitched }
  const contradictions: Contradiction[] = []
  if (told !== null && pitched !== null) {
    const relative = outsideBy(pitched, told)
    if (Math.abs(relative) > ROUNDED) {
      contradictions.push({ ...lensSays['sensor-against-pixel-pitch'](sheet, pitched, told), relative })
    }
  }
  if (sheet.sensor?.kind === 'size') {
    const { widthM, heightM } = sheet.sensor
    const relative = widthM / heightM / (sheet.widthPx / sheet.heightPx) - 1
    if (Math.abs(relative) > ROUNDED) {
      contradictions.push({ ...lensSays['sensor-against-image'](sheet, widthM, heightM), relative })
    }
  }
  const focalM = sheet.focalLengthM ?? null
  const pixelsPerRadian =
    width === null || focalM === null
      ? null
      : { low: (focalM / width.high) * sheet.widthPx, high: (focalM / width.low) * sheet.widthPx }
  return { sensorWidthM: width, pixelsPerRadian, contradictions }
}

/** How far a value lies outside a span, relative to the nearer end: 0 inside. */
export function outsideBy(value: number, span: Span): number {
  if (value < span.low) return value / span.low - 1
  return value > span.high ? value / span.high - 1 : 0
}

function sensorSpanM(sheet: DataSheet): Span | null {
  if (!sheet.sensor) return null
  if (sheet.sensor.kind === 'size') return { low: sheet.sensor.widthM, high: sheet.sensor.widthM }
  return inchTypeWidthM(sheet.sensor.inches)
}
