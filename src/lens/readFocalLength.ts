import type { Contradiction, DataSheet, Span } from './dataSheet.js'
import { inchTypeWidthM } from './inchTypes.js'
import { lensSays, setupOf } from './sentences.js'

/** F by the focal length and the sensor alone, with the words that name them. */
export interface FocalSpan {
  /** As written. */
  readonly written: Span
  /** With what is nominal in a focal length. */
  readonly nominal: Span
  /** "a 2.8 mm lens on a sensor 5.57 mm wide". */
  readonly setup: string
}

/** What the sensor, the pixel pitch and the focal length say together. */
interface FocalReading {
  /** F = f/pitch, px per radian at the centre, whatever the projection; null without a focal length and the size of a pixel. */
  readonly focal: FocalSpan | null
  readonly contradictions: readonly Contradiction[]
}

/** Sides and pitches are rounded to about this: this project's convention. */
const ROUNDED = 0.03
/** Focal lengths on data sheets are nominal, rounded and vary from lens to lens: this project's convention. */
const NOMINAL = 0.05

/**
 * F from the focal length and the size of a pixel: the pixel pitch where it is given (the still taken to be exported at the imager's own
 * size), else the sensor's long side over the still's. An inch type gives a span. The pitch wins over the sensor.
 */
export function readFocalLength(sheet: DataSheet): FocalReading {
  // A picture turned upright still has its long side along the imager's.
  const longPx = Math.max(sheet.widthPx, sheet.heightPx)
  const told = sensorSpanM(sheet)
  const pitched = sheet.pixelPitchM ? sheet.pixelPitchM * longPx : null
  const width = pitched === null ? told : { low: pitched, high: pitched }
  const contradictions: Contradiction[] = []
  if (told !== null && pitched !== null) {
    const relative = outsideBy(pitched, told)
    if (Math.abs(relative) > ROUNDED) {
      contradictions.push({
        ...lensSays['sensor-against-pixel-pitch'](longPx, sheet.pixelPitchM!, told),
        relative,
      })
    }
  }
  if (sheet.sensor?.kind === 'size') {
    const { widthM, heightM } = sheet.sensor
    const relative = elongation(widthM, heightM) / elongation(sheet.widthPx, sheet.heightPx) - 1
    if (Math.abs(relative) > ROUNDED) {
      contradictions.push({ ...lensSays['sensor-against-image'](sheet, widthM, heightM), relative })
    }
  }
  const focalM = sheet.focalLengthM ?? null
  if (width === null || focalM === null) return { focal: null, contradictions }
  const written = { low: (focalM / width.high) * longPx, high: (focalM / width.low) * longPx }
  const nominal = { low: written.low * (1 - NOMINAL), high: written.high * (1 + NOMINAL) }
  return { focal: { written, nominal, setup: setupOf(focalM, width) }, contradictions }
}

/** How far a value lies outside a span, relative to the nearer end: 0 inside. */
export function outsideBy(value: number, span: Span): number {
  if (value < span.low) return value / span.low - 1
  return value > span.high ? value / span.high - 1 : 0
}

function elongation(width: number, height: number): number {
  return Math.max(width, height) / Math.min(width, height)
}

function sensorSpanM({ sensor }: DataSheet): Span | null {
  if (!sensor) return null
  if (sensor.kind === 'inch-type') return inchTypeWidthM(sensor.inches)
  const longM = Math.max(sensor.widthM, sensor.heightM)
  return { low: longM, high: longM }
}
