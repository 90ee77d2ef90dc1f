import { describe, expect, it } from 'vitest'
import type { DataSheet } from '../../src/lens/dataSheet.js'
import { readDataSheet } from '../../src/lens/readDataSheet.js'
import { expectNear } from '../nearly.js'

const codesOf = (sheet: DataSheet): string[] => readDataSheet(sheet).contradictions.map(({ code }) => code)

// A plain lens, 90 degrees over 1920 px: F = 960, 2 atan(540 / 960) = 58.7 degrees up and down, 2 atan(hypot(960, 540) / 960) = 97.9 from corner to
// corner; with pixels of 2.9 um 2.784 mm, with an imager of 1/2.8 inch.
const SIZE = { widthPx: 1920, heightPx: 1080 }
const OPTICS = { focalLengthM: 2.8e-3, pixelPitchM: 2.9e-6 }
const SENSOR = { sensor: { kind: 'inch-type', inches: 1 / 2.8 } } as const
const ANGLES = { horizontalDeg: 90, verticalDeg: 59 }

describe('the slips a data sheet is copied with (first build, 4.6)', () => {
  it('none, where the sheet agrees with itself', () => {
    expect(readDataSheet({ ...SIZE, ...ANGLES, ...OPTICS, ...SENSOR })).toMatchObject({
      contradictions: [],
      inDoubt: false,
      lens: { p: 1 },
    })
  })

  it('a pixel pitch of another mode, which made F 100 % too large: against the sensor nothing is read from it', () => {
    const halved = { ...SIZE, ...OPTICS, pixelPitchM: 1.45e-6 }
    const reading = readDataSheet({ ...halved, ...SENSOR })
    expect(reading.contradictions.map(({ code }) => code)).toEqual([
      'pitch-of-another-mode',
      'sensor-against-pixel-pitch',
    ])
    expectNear(reading.contradictions[0]!.relative, -0.5, { abs: 1e-12 })
    expect(reading.contradictions[0]!.message).toMatch(/1\.45 um look like those of another mode: 2\.9 um/)
    expectNear(reading.lens!.pixelsPerRadian, 2 * (2.8e-3 / 2.9e-6), { rel: 1e-12 }, 'F + 100 %')
    expect(reading.inDoubt).toBe(true)
    // Beside angles that agree with the sensor the pitch alone is wrong, and the lens rests on the angles.
    for (const sheet of [
      { ...halved, ...ANGLES },
      { ...halved, ...ANGLES, ...SENSOR },
    ]) {
      expect(codesOf(sheet)[0]).toBe('pitch-of-another-mode')
      expect(readDataSheet(sheet).inDoubt).toBe(false)
      expectNear(readDataSheet(sheet).lens!.pixelsPerRadian, 960, { rel: 1e-9 })
    }
    expect(codesOf({ ...SIZE, ...ANGLES, ...OPTICS, pixelPitchM: 5.8e-6 })[0]).toBe('pitch-of-another-mode')
  })

  it('exchanged angles, and what cannot be told from them: a picture turned', () => {
    const exchanged = { ...SIZE, horizontalDeg: 59, verticalDeg: 90 }
    expect(codesOf(exchanged)).toEqual(['angles-exchanged', 'picture-turned', 'angles-fit-no-lens'])
    expect(readDataSheet(exchanged).contradictions[0]!.message).toContain(
      '90 across and 59 up and down would agree',
    )
    expect(readDataSheet(exchanged).inDoubt).toBe(true)
  })

  it('corridor mode: an upright picture with the angles of the lying one', () => {
    const turned = { widthPx: 1080, heightPx: 1920, ...ANGLES }
    expect(codesOf(turned)).toEqual(['picture-turned', 'angles-exchanged', 'angles-fit-no-lens'])
    expect(readDataSheet(turned).contradictions[0]!.message).toMatch(
      /corridor mode.*agree with 1920 x 1080 px/,
    )
    expect(readDataSheet(turned).inDoubt).toBe(true)
    // With one angle and the lens: 90 degrees over 1080 px would be no lens of 965 px per radian.
    expect(codesOf({ ...turned, verticalDeg: null, ...OPTICS })).toContain('picture-turned')
    const upright = { widthPx: 1080, heightPx: 1920, horizontalDeg: 59, verticalDeg: 90 }
    expect(codesOf({ ...upright, ...OPTICS, ...SENSOR }), 'given right, it is read').toEqual([])
  })

  it('the diagonal for the horizontal angle', () => {
    const alone = { ...SIZE, horizontalDeg: 98, ...OPTICS }
    expect(codesOf({ ...alone, verticalDeg: 59 }), 'by the focal length within its 5 %: bent or not').toEqual(
      [],
    )
    const narrow = { ...SIZE, horizontalDeg: 43, verticalDeg: 21.8 }
    // 2 atan(tan(21.5 deg) / hypot(16, 9) 16) = 37.9 across, 21.8 up and down: with 43 across no lens of the family is so flat.
    expect(codesOf(narrow)).toEqual(['diagonal-for-horizontal', 'angles-fit-no-lens'])
    const [slip] = readDataSheet(narrow).contradictions
    expect(slip!.message).toContain('which would be about 38')
    expectNear(slip!.relative, 43 / 37.9 - 1, { abs: 2e-3 })
    expect(readDataSheet(narrow).inDoubt).toBe(true)
    // Over a wide angle both readings are lenses: both are named, and F is left open between 960 of the plain one and what the bent one has.
    const wide = readDataSheet({ ...SIZE, horizontalDeg: 98, verticalDeg: 59 })
    expect(wide.contradictions).toEqual([])
    expect(wide.readings.map(({ code }) => code)).toContain('may-be-diagonal')
    expect(wide.bounds!.low).toBeLessThan(960)
    expect(wide.bounds!.high).toBeGreaterThan(wide.lens!.pixelsPerRadian)
  })

  it('two at once, each by its name where the one does not hide the other', () => {
    const both = { ...SIZE, horizontalDeg: 59, verticalDeg: 90, ...SENSOR, pixelPitchM: 1.45e-6 }
    expect(codesOf(both)).toEqual(expect.arrayContaining(['angles-exchanged', 'pitch-of-another-mode']))
    expect(readDataSheet(both).inDoubt).toBe(true)
  })
})
