import type { Contradiction, DataSheet } from './dataSheet.js'
import { inchTypeWidthM } from './inchTypes.js'

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
  /** In a fitter's words: "a sensor 5.57 mm wide". */
  readonly sensorWords: string
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
      const message = `${sheet.widthPx} pixels of ${micrometres(sheet.pixelPitchM!)} take ${millimetres(pitched)}, but the sensor is ${spanWords(told)} wide; the pixel pitch is gone on with`
      contradictions.push({ code: 'sensor-against-pixel-pitch', message, relative })
    }
  }
  if (sheet.sensor?.kind === 'size') {
    const relative = sheet.sensor.widthM / sheet.sensor.heightM / (sheet.widthPx / sheet.heightPx) - 1
    if (Math.abs(relative) > ROUNDED) {
      const message = `a sensor of ${millimetres(sheet.sensor.widthM)} by ${millimetres(sheet.sensor.heightM)} has another shape than ${sheet.widthPx} x ${sheet.heightPx} px: the still may show a part of it; its width is gone on with`
      contradictions.push({ code: 'sensor-against-image', message, relative })
    }
  }
  const focalM = sheet.focalLengthM ?? null
  const pixelsPerRadian =
    width === null || focalM === null
      ? null
      : { low: (focalM / width.high) * sheet.widthPx, high: (focalM / width.low) * sheet.widthPx }
  const sensorWords = width === null ? '' : `a sensor ${spanWords(width)} wide`
  return { sensorWidthM: width, pixelsPerRadian, sensorWords, contradictions }
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

function spanWords(span: Span): string {
  if (span.high / span.low - 1 < 1e-9) return millimetres(span.low)
  return `${(span.low * 1000).toFixed(2)} to ${millimetres(span.high)}`
}

function millimetres(lengthM: number): string {
  return `${Number((lengthM * 1000).toFixed(2))} mm`
}

function micrometres(lengthM: number): string {
  return `${Number((lengthM * 1e6).toFixed(2))} um`
}
