import { catalogue } from '../sentences.js'
import { trimmed } from '../units/figures.js'
import { printedEstimate, printedValue } from '../units/printedEstimate.js'
import type { DataSheet, Span } from './dataSheet.js'
import type { StatedAngle } from './fitProjection.js'

const LENS = { topic: 'lens' } as const

/** All that is said of a lens and of its data sheet, each contradiction with the reading that is used. */
export const lensSays = catalogue({
  'angles-not-rectilinear': {
    ...LENS,
    means:
      'most wide lenses bend straight lines outward, so their two fields of view differ from those of a plain lens. Nothing needs doing, unless an angle was copied wrongly',
    say: (angles: AnglesAcross, straightDeg: number, p: number) =>
      `the data sheet's ${anglesOf(angles)} belong to a lens that bends straight lines outward, as wide lenses do (p = ${printedValue(p, 2)}): ${plainLens(angles, straightDeg)}`,
  },
  'bent-by-focal-length': {
    code: 'angles-not-rectilinear',
    ...LENS,
    means:
      'focal length, sensor and one field of view show how a wide lens bends straight lines. Nothing needs doing',
    say: ({ deg }: StatedAngle, p: number) =>
      `with its focal length and pixels, a lens that sees ${deg} degrees bends straight lines outward (p = ${printedValue(p, 2)}), as wide lenses do`,
  },
  'may-be-diagonal': {
    ...LENS,
    means:
      'as the angle from corner to corner it would be that of a plain lens. Look up which one the data sheet means. Until then every figure covers both readings',
    say: (deg: number) =>
      `${deg} degrees from corner to corner, not across, would be a plain lens: check which one is meant. Until then all figures cover both readings`,
  },
  'digits-leave': {
    ...LENS,
    means:
      'a rounded figure, such as a whole degree, leaves the lens uncertain by that much. Every predicted density and distance has that uncertainty too',
    say: (share: number) =>
      `the rounding in the data sheet leaves px per radian uncertain by ${printedValue(100 * share, 1)} % either way. Every predicted density and distance has that uncertainty too`,
  },
  'angles-exchanged': {
    ...LENS,
    means:
      'swapped, the two fields of view would agree with the picture; as written they do not. Look up which is which, and correct them',
    say: ({ widthPx, heightPx }: DataSheet, acrossDeg: number, downDeg: number) =>
      `the two fields of view look swapped: ${downDeg} across and ${acrossDeg} up and down would agree with ${widthPx} x ${heightPx} px`,
    mend: 'look them up',
  },
  'picture-turned': {
    ...LENS,
    means:
      'the fields of view are those of the picture turned by 90 degrees (corridor mode). Give size and angles of the same picture',
    say: ({ widthPx, heightPx }: DataSheet) =>
      `size and angles look like those of a picture turned by 90 degrees (corridor mode): the angles agree with ${heightPx} x ${widthPx} px`,
    mend: 'check camera.image on an exported still, and give the angles of that picture',
  },
  'diagonal-for-horizontal': {
    ...LENS,
    means: 'the field of view from corner to corner was written as the horizontal one',
    say: (deg: number, acrossDeg: number) =>
      `${deg} degrees look like the field of view from corner to corner, written as the horizontal one, which would be about ${printedValue(acrossDeg, 0)}`,
    mend: 'look the horizontal one up',
  },
  'pitch-of-another-mode': {
    ...LENS,
    means:
      'the pixel pitch belongs to another mode, in which pixels are joined or split. Look up the pitch of the exported stream',
    say: (pitchM: number, rightM: number) =>
      `pixels of ${micrometres(pitchM)} look like those of another mode: ${micrometres(rightM)} would agree with the rest`,
    mend: 'look up the pixel pitch of the stream that is exported',
  },
  'angles-fit-no-lens': {
    ...LENS,
    means:
      'no lens with square pixels has both fields of view of the data sheet: check both angles and the size of the still',
    say: (angles: AnglesAcross, straightDeg: number, p: number) =>
      `the data sheet's ${anglesOf(angles)} fit no lens with square pixels on ${angles[0].px} x ${angles[1].px} px: ${plainLens(angles, straightDeg)}. The closest lens has p = ${printedValue(p, 2)}. They cannot all be right`,
  },
  'angles-against-focal-length': {
    ...LENS,
    means:
      'focal length and sensor give another field of view than the data sheet. A zoom or another sensor may be meant: check all three',
    say: (setup: string, middle: number, byAngles: number) =>
      `${setup} gives ${printedValue(middle, 0)} px per radian in the middle of the picture, but the angles give ${printedValue(byAngles, 0)}. They cannot all be right`,
  },
  'angle-impossible': {
    ...LENS,
    means:
      'no lens of that focal length on that sensor has the angle of the data sheet. Check focal length, sensor and angle',
    say: (setup: string, possible: Span, deg: number, across: string) => {
      const { low, high } = printedEstimate({ value: possible.low, ...possible }, [deg])
      return `${setup} sees ${low} to ${high} degrees ${across}, however it bends lines. It cannot see ${deg} degrees. They cannot all be right`
    },
  },
  'sensor-against-pixel-pitch': {
    ...LENS,
    means:
      'the pixels of the data sheet do not fill its sensor. The still may be scaled, or one figure was copied wrongly',
    say: (longPx: number, pitchM: number, told: Span) =>
      `${longPx} pixels of ${micrometres(pitchM)} take ${millimetres(longPx * pitchM)}, but the sensor is ${spanOf(told)} wide. They cannot all be right`,
  },
  'sensor-against-image': {
    ...LENS,
    means: 'the sensor has another shape than the still, so the still may show only part of it: check both',
    say: (sheet: DataSheet, widthM: number, heightM: number) =>
      `a sensor of ${millimetres(widthM)} by ${millimetres(heightM)} has another shape than ${sheet.widthPx} x ${sheet.heightPx} px. The still may show only part of it; Proofwalk uses its width`,
  },
  'still-against-image': {
    topic: 'stills',
    means:
      'the still has another size than the data sheet gives. Record and export the main stream at full size, or correct camera.image in walk.yaml',
    say: (still: Size, sheet: Size, change: string) =>
      `the still has ${still.width} x ${still.height} px, the data sheet says ${sheet.width} x ${sheet.height}: ${change}. Proofwalk uses the still`,
  },
  'sheet-number': { ...LENS, say: 'sizes in a data sheet are above 0, angles above 0 and up to 360 degrees' },

  'equal-angles': {
    ...LENS,
    say: (p: number) => `equal fields of view on a square still do not show the projection, so ${assumed(p)}`,
  },
  'one-angle': {
    ...LENS,
    say: (p: number, which: string) => `only the ${which} field of view is given, so ${assumed(p)}`,
  },
  'no-angle': {
    ...LENS,
    say: 'no field of view is given, so a lens that draws straight lines straight (p = 1) is assumed',
  },
  'inch-type-spread': {
    ...LENS,
    say: (share: number) =>
      `the inch type covers several sensor sizes, so the lens is known only to ${printedValue(100 * share, 0)} %. The pixel pitch would settle it`,
  },
})

/** How a still of another size than the sheet's came about. */
export const CHANGES_OF_SIZE = {
  turned: 'it is turned on its side',
  reshaped: 'its shape differs, so it is cropped, or its pixels are not square',
  scaled: (times: number) =>
    times < 1
      ? `it is scaled down or a second stream (${printedValue(times, 2)} times)`
      : `it is scaled up (${printedValue(times, 2)} times)`,
} as const

/** "a 2.8 mm lens on a sensor 5.57 mm wide". */
export function setupOf(focalLengthM: number, width: Span): string {
  return `a ${millimetres(focalLengthM)} lens on a sensor ${spanOf(width)} wide`
}

type Size = Readonly<{ width: number; height: number }>

/** The horizontal field of view, then the vertical. */
export type AnglesAcross = readonly [StatedAngle, StatedAngle]

function anglesOf([across, down]: AnglesAcross): string {
  return `${across.deg} by ${down.deg} degrees`
}

function plainLens([across, down]: AnglesAcross, straightDeg: number): string {
  return across.deg < 180
    ? `with ${across.deg} degrees over ${across.px} px, a lens that draws straight lines straight sees ${printedValue(straightDeg, 1, [down.deg])} degrees over ${down.px} px, not ${down.deg}`
    : 'no lens that draws straight lines straight sees 180 degrees or more'
}

function assumed(p: number): string {
  return `a lens that ${p === 1 ? 'draws straight lines straight (p = 1)' : 'spreads angles evenly (p = 0)'} is assumed`
}

function spanOf({ low, high }: Span): string {
  return high / low - 1 < 1e-9 ? millimetres(low) : `${printedValue(low * 1000, 2)} to ${millimetres(high)}`
}

function millimetres(lengthM: number): string {
  return `${trimmed(lengthM * 1000, 2)} mm`
}

function micrometres(lengthM: number): string {
  return `${trimmed(lengthM * 1e6, 2)} um`
}
