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
      'most wide lenses bend straight lines outward, so their two fields of view are not those of a plain lens; nothing needs doing, unless an angle was copied wrongly from the data sheet',
    say: (angles: AnglesAcross, straightDeg: number, p: number) =>
      `the data sheet's ${anglesOf(angles)} are those of a lens that bends straight lines outward (p = ${printedValue(p, 2)}), as wide lenses do: ${plainLens(angles, straightDeg)}`,
  },
  'bent-by-focal-length': {
    code: 'angles-not-rectilinear',
    ...LENS,
    means:
      'focal length and sensor with one field of view tell how a wide lens bends straight lines; nothing needs doing',
    say: ({ deg }: StatedAngle, p: number) =>
      `with its focal length and pixels, a lens that sees ${deg} degrees bends straight lines outward (p = ${printedValue(p, 2)}), as wide lenses do`,
  },
  'may-be-diagonal': {
    ...LENS,
    means:
      'as the angle from corner to corner it would be that of a plain lens: look up which of the two the data sheet means; every figure is left open between both readings',
    say: (deg: number) =>
      `${deg} degrees from corner to corner instead of across would be a plain lens: check which the data sheet means; figures are left open between both`,
  },
  'digits-leave': {
    ...LENS,
    means:
      'a figure rounded to its last digit, such as a whole degree, leaves the lens open by so much, and every density and distance foretold with it',
    say: (share: number) =>
      `the digits of the data sheet leave px per radian open by ${printedValue(100 * share, 1)} % either way, and every density and distance foretold with it`,
  },
  'angles-exchanged': {
    ...LENS,
    means:
      'exchanged, the two fields of view agree with the picture, as they stand they do not: look up which is which, and write them anew',
    say: ({ widthPx, heightPx }: DataSheet, acrossDeg: number, downDeg: number) =>
      `the two fields of view look exchanged: ${downDeg} across and ${acrossDeg} up and down agree with ${widthPx} x ${heightPx} px`,
    mend: 'look them up',
  },
  'picture-turned': {
    ...LENS,
    means:
      'the fields of view are those of the picture turned by 90 degrees (corridor mode): give size and angles of one and the same picture',
    say: ({ widthPx, heightPx }: DataSheet) =>
      `size and angles look like those of a picture turned by 90 degrees (corridor mode): the angles agree with ${heightPx} x ${widthPx} px`,
    mend: 'check camera.image on an exported still, and give the angles of that picture',
  },
  'diagonal-for-horizontal': {
    ...LENS,
    means:
      'the field of view from corner to corner was written as the horizontal one: look up the horizontal one',
    say: (deg: number, acrossDeg: number) =>
      `${deg} degrees look like the field of view from corner to corner, written as the horizontal one, which would be about ${printedValue(acrossDeg, 0)}`,
    mend: 'look it up',
  },
  'pitch-of-another-mode': {
    ...LENS,
    means:
      'the pixel pitch is that of another mode, with pixels joined or parted, not of the stream that is exported: look up the pitch of that one',
    say: (pitchM: number, rightM: number) =>
      `pixels of ${micrometres(pitchM)} look like those of another mode: ${micrometres(rightM)} would agree with the rest`,
    mend: 'look up the pixel pitch of the stream that is exported',
  },
  'angles-fit-no-lens': {
    ...LENS,
    means:
      'no lens with square pixels has both fields of view of the data sheet: check both angles and the size of the still',
    say: (angles: AnglesAcross, straightDeg: number, p: number) =>
      `the data sheet's ${anglesOf(angles)} fit no lens with square pixels on ${angles[0].px} x ${angles[1].px} px: ${plainLens(angles, straightDeg)}; Proofwalk uses the horizontal angle and the closest lens (p = ${printedValue(p, 2)})`,
  },
  'angles-against-focal-length': {
    ...LENS,
    means:
      'focal length and sensor give another field of view than the data sheet: a zoom or another sensor may be meant; check all three',
    say: (setup: string, middle: number, byAngles: number) =>
      `${setup} gives ${printedValue(middle, 0)} px per radian in the middle of the picture, the angles give ${printedValue(byAngles, 0)}; the angles are gone on with`,
  },
  'angle-impossible': {
    ...LENS,
    means:
      'no lens of that focal length on that sensor sees the angle of the data sheet, whatever its kind: check focal length, sensor and angle',
    say: (setup: string, possible: Span, deg: number, across: string) => {
      const { low, high } = printedEstimate({ value: possible.low, ...possible }, [deg])
      return `${setup} sees ${low} to ${high} degrees ${across}, however it bends lines; that lens cannot see ${deg} degrees. Proofwalk keeps using the angles`
    },
  },
  'sensor-against-pixel-pitch': {
    ...LENS,
    means:
      'the pixels of the data sheet do not fill its sensor: the still may be scaled, or one of the two is copied wrongly',
    say: (longPx: number, pitchM: number, told: Span) =>
      `${longPx} pixels of ${micrometres(pitchM)} take ${millimetres(longPx * pitchM)}, but the sensor is ${spanOf(told)} wide; the pixel pitch is gone on with`,
  },
  'sensor-against-image': {
    ...LENS,
    means:
      'the sensor of the data sheet has another shape than the still, which then shows only a part of it: check both',
    say: (sheet: DataSheet, widthM: number, heightM: number) =>
      `a sensor of ${millimetres(widthM)} by ${millimetres(heightM)} has another shape than ${sheet.widthPx} x ${sheet.heightPx} px: the still may show a part of it; its width is gone on with`,
  },
  'still-against-image': {
    topic: 'stills',
    means:
      'the still has another size than the data sheet gives: record and export the main stream at full size, or correct camera.image in walk.yaml',
    say: (still: Size, sheet: Size, change: string) =>
      `the still has ${still.width} x ${still.height} px, the data sheet says ${sheet.width} x ${sheet.height}: ${change}; the still is gone on with`,
  },
  'sheet-number': { ...LENS, say: 'a data sheet holds sizes above 0, and angles above 0 up to 360 degrees' },

  'equal-angles': {
    ...LENS,
    say: (p: number) =>
      `both fields of view are equal on a square still, which tells no projection; ${assumed(p)}`,
  },
  'one-angle': {
    ...LENS,
    say: (p: number, which: string) => `only the ${which} field of view is given; ${assumed(p)}`,
  },
  'no-angle': {
    ...LENS,
    say: 'no field of view is given; a lens that draws straight lines straight (p = 1) is assumed',
  },
  'inch-type-spread': {
    ...LENS,
    say: (share: number) =>
      `the inch type stands for several sizes of sensor, so the lens is known to ${printedValue(100 * share, 0)} %; the pixel pitch would settle it`,
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
