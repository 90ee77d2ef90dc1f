import { describe, expect, it } from 'vitest'
import type { DataSheet, LensReading, LensRemark } from '../../src/lens/dataSheet.js'
import { projectionAngle } from '../../src/lens/projection.js'
import { readDataSheet } from '../../src/lens/readDataSheet.js'
import { seededRandom } from '../../src/math/random.js'
import { expectNear } from '../nearly.js'

const NAMED = [1, 0.5, 0, -0.5, -1]

/** Both fields of view of a lens over a still, degrees; null where one of its edges has no image. */
function anglesOf(
  p: number,
  pixelsPerRadian: number,
  widthPx: number,
  heightPx: number,
): [number, number] | null {
  const across = projectionAngle(p, widthPx / 2 / pixelsPerRadian)
  const down = projectionAngle(p, heightPx / 2 / pixelsPerRadian)
  return across === null || down === null ? null : [(across * 360) / Math.PI, (down * 360) / Math.PI]
}

/** All that is said of how a sheet was read. */
function said({ readings }: LensReading): string {
  return readings.map(({ message }) => message).join('; ')
}

const codesOf = (remarks: readonly LensRemark[]): string[] => remarks.map(({ code }) => code)

/** A lens and the sheet it would have. */
interface KnownLens {
  readonly p: number
  readonly pixelsPerRadian: number
  readonly sheet: DataSheet
  readonly angles: [number, number]
}

/** 500 lenses of the five named projections, 20 to 175 degrees wide, on stills of several shapes. */
function randomLenses(): KnownLens[] {
  const random = seededRandom(3)
  const lenses: KnownLens[] = []
  while (lenses.length < 500) {
    const p: number = NAMED[lenses.length % 5]!
    const [widthPx, heightPx] = (
      [
        [3840, 2160],
        [2592, 1944],
        [1920, 1080],
        [1080, 1920],
        [2304, 1296],
      ] as const
    )[Math.floor(random.uniform() * 5)]!
    const pixelsPerRadian = (widthPx / 2) * (0.35 + 4 * random.uniform())
    const angles = anglesOf(p, pixelsPerRadian, widthPx, heightPx)
    if (angles === null || Math.max(...angles) < 20 || Math.max(...angles) > 175) continue
    lenses.push({ p, pixelsPerRadian, angles, sheet: { widthPx, heightPx } })
  }
  return lenses
}

describe('reading a data sheet', () => {
  it('finds projection and px per radian of 500 random lenses again', () => {
    let worstP = 0
    let worstF = 0
    for (const { p, pixelsPerRadian, sheet, angles } of randomLenses()) {
      const reading = readDataSheet({ ...sheet, horizontalDeg: angles[0], verticalDeg: angles[1] })
      expect(reading.readFrom).toBe('both-angles')
      expect(reading).toMatchObject({ contradictions: [], inDoubt: false })
      const bent = codesOf(reading.readings).includes('angles-not-rectilinear')
      expect(bent, `p = ${p}, ${angles.join(' by ')}`).toBe(p !== 1)
      worstP = Math.max(worstP, Math.abs(reading.lens!.p - p))
      worstF = Math.max(worstF, Math.abs(reading.lens!.pixelsPerRadian / pixelsPerRadian - 1))
    }
    console.log(`worst of 500 lenses: p off by ${worstP.toExponential(1)}, F by ${worstF.toExponential(1)}`)
    expect(worstP).toBeLessThan(0.02)
    expect(worstF).toBeLessThan(0.001)
  })

  it('finds the same F from the focal length and the size of a pixel, and no quarrel between them and the angles', () => {
    const random = seededRandom(8)
    let worstF = 0
    for (const { pixelsPerRadian, sheet, angles } of randomLenses()) {
      const pixelPitchM = 1e-6 * (1.4 + 3 * random.uniform())
      const optics = { pixelPitchM, focalLengthM: pixelPitchM * pixelsPerRadian }
      const sensor = {
        kind: 'size',
        widthM: pixelPitchM * sheet.widthPx,
        heightM: pixelPitchM * sheet.heightPx,
      } as const
      const alone = readDataSheet({ ...sheet, ...optics })
      const bySensor = readDataSheet({ ...sheet, focalLengthM: optics.focalLengthM, sensor })
      for (const { lens } of [alone, bySensor])
        worstF = Math.max(worstF, Math.abs(lens!.pixelsPerRadian / pixelsPerRadian - 1))
      const all = readDataSheet({
        ...sheet,
        ...optics,
        sensor,
        horizontalDeg: angles[0],
        verticalDeg: angles[1],
      })
      expect(all.contradictions).toEqual([])
      // Ten per cent off, past what is nominal in a focal length, is told.
      const wrong = { ...optics, focalLengthM: optics.focalLengthM * 1.1 }
      const told = readDataSheet({ ...sheet, ...wrong, horizontalDeg: angles[0], verticalDeg: angles[1] })
      expect(told.contradictions.map(({ code }) => code).join(' ')).toMatch(
        /angles-against-focal-length|angle-impossible/,
      )
    }
    console.log(`worst of 500 lenses by focal length: F off by ${worstF.toExponential(1)}`)
    expect(worstF).toBeLessThan(0.001)
  })

  it('of any two angles either has a member of the family that gives both, or says that none does', () => {
    const random = seededRandom(9)
    const counts = { fits: 0, none: 0 }
    for (let pair = 0; pair < 500; pair++) {
      const [widthPx, heightPx] = [1920, 1080]
      const horizontalDeg = Number((30 + 140 * random.uniform()).toFixed(4))
      const verticalDeg = Number((horizontalDeg * (0.3 + 0.6 * random.uniform())).toFixed(4))
      const { lens, contradictions } = readDataSheet({ widthPx, heightPx, horizontalDeg, verticalDeg })
      const seen = anglesOf(lens!.p, lens!.pixelsPerRadian, widthPx, heightPx)
      const gives =
        seen !== null && Math.abs(seen[0] - horizontalDeg) < 0.02 && Math.abs(seen[1] - verticalDeg) < 0.02
      const saysNone = contradictions.some(({ code }) => code === 'angles-fit-no-lens')
      expect(saysNone, `${horizontalDeg} by ${verticalDeg}`).toBe(!gives)
      counts[gives ? 'fits' : 'none']++
    }
    expect(Math.min(counts.fits, counts.none)).toBeGreaterThan(50)
  })

  it('stays near the truth where the sheet rounds its angles to whole degrees', () => {
    const errors = randomLenses().map(({ pixelsPerRadian, sheet, angles }) => {
      const reading = readDataSheet({
        ...sheet,
        horizontalDeg: Math.round(angles[0]),
        verticalDeg: Math.round(angles[1]),
      })
      expect(reading.contradictions.map(({ code }) => code)).not.toContain('angles-fit-no-lens')
      return Math.abs(reading.lens!.pixelsPerRadian / pixelsPerRadian - 1)
    })
    errors.sort((a, b) => a - b)
    console.log(
      `whole degrees: F off by ${errors[250]!.toFixed(4)} (median), ${errors[474]!.toFixed(4)} (95 %)`,
    )
    expect(errors[474]!).toBeLessThan(0.06)
  })

  it('reads 100 by 52 degrees on 3840 x 2160 as a bent lens, and says that they are no plain one', () => {
    const reading = readDataSheet({ widthPx: 3840, heightPx: 2160, horizontalDeg: 100, verticalDeg: 52 })
    expect(reading.contradictions).toEqual([])
    expect(codesOf(reading.readings)).toEqual(['angles-not-rectilinear', 'digits-leave'])
    // A plain lens: 2 atan(tan(50 deg) 9/16) = 67.67 degrees.
    expect(reading.readings[0]!.message).toContain('67.7 degrees over 2160 px, not 52')
    const { lens } = reading
    expect(lens!.p).toBeGreaterThan(-1)
    expect(lens!.p).toBeLessThan(-0.5)
    const [across, down] = anglesOf(lens!.p, lens!.pixelsPerRadian, 3840, 2160)!
    expectNear(across, 100, { abs: 1e-9 })
    expectNear(down, 52, { abs: 1e-9 })
    expectNear(reading.rectilinearPixelsPerRadian!, 1920 / Math.tan((50 * Math.PI) / 180), { rel: 1e-12 })
    expect(reading.edgePixelsPerRadian!).toBeLessThan(lens!.pixelsPerRadian)
    expect([lens!.centreX, lens!.centreY]).toEqual([1920, 1080])
  })

  it('tells angles that no lens has, and which reading it went on with', () => {
    const narrow = readDataSheet({ widthPx: 1920, heightPx: 1080, horizontalDeg: 90, verticalDeg: 65 })
    expect(narrow.contradictions.map(({ code }) => code)).toEqual(['angles-fit-no-lens'])
    expect(narrow.contradictions[0]!.message).toContain('The closest lens has p')
    expect(narrow.lens).toMatchObject({ p: 1 })
    expectNear(narrow.lens!.pixelsPerRadian, 960, { rel: 1e-12 })
    const flat = readDataSheet({ widthPx: 1920, heightPx: 1080, horizontalDeg: 100, verticalDeg: 40 })
    expect(flat.contradictions.map(({ code }) => code)).toEqual(['angles-fit-no-lens'])
    expect(flat.lens!.p).toBe(-1)
    const exchanged = readDataSheet({ widthPx: 1920, heightPx: 1080, horizontalDeg: 52, verticalDeg: 84 })
    expect(exchanged.contradictions[0]!.message).toContain('swapped')
  })

  it('takes angles rounded to whole degrees for a plain lens where they may be', () => {
    // 2 atan(tan(30 deg) 9/16) = 35.98 degrees.
    const reading = readDataSheet({ widthPx: 3840, heightPx: 2160, horizontalDeg: 60, verticalDeg: 36 })
    expect(reading.contradictions).toEqual([])
    expect(reading.lens!.p).toBe(1)
    const finer = readDataSheet({ widthPx: 3840, heightPx: 2160, horizontalDeg: 60.01, verticalDeg: 35.21 })
    expect(codesOf(finer.readings)).toContain('angles-not-rectilinear')
  })

  it('assumes and says so where one angle is given', () => {
    const across = readDataSheet({ widthPx: 1920, heightPx: 1080, horizontalDeg: 90 })
    expectNear(across.lens!.pixelsPerRadian, 960, { rel: 1e-12 })
    expect(across).toMatchObject({ readFrom: 'one-angle', contradictions: [] })
    expect(said(across)).toContain('only the horizontal')
    // At the edge of a plain lens the worse direction is around the centre: F / cos(45 deg).
    expectNear(across.edgePixelsPerRadian!, 960 * Math.SQRT2, { rel: 1e-12 })
    const down = readDataSheet({ widthPx: 1920, heightPx: 1080, verticalDeg: 60 })
    expectNear(down.lens!.pixelsPerRadian, 540 / Math.tan(Math.PI / 6), { rel: 1e-12 })
    const round = readDataSheet({ widthPx: 2160, heightPx: 2160, horizontalDeg: 180, verticalDeg: 180 })
    expect(round.lens).toMatchObject({ p: 0 })
    expect(round.rectilinearPixelsPerRadian).toBe(null)
    expectNear(round.lens!.pixelsPerRadian, 2160 / Math.PI, { rel: 1e-12 })
  })

  it('reads focal length and pixel pitch where no angle is given', () => {
    const pitched = readDataSheet({ widthPx: 1920, heightPx: 1080, focalLengthM: 4e-3, pixelPitchM: 2.9e-6 })
    expect(pitched.readFrom).toBe('focal-length')
    expectNear(pitched.lens!.pixelsPerRadian, 4e-3 / 2.9e-6, { rel: 1e-9 })
    expect(pitched.readings.map(({ code }) => code)).toEqual(['no-angle', 'digits-leave'])
    const typed = readDataSheet({
      widthPx: 1920,
      heightPx: 1080,
      focalLengthM: 4e-3,
      sensor: { kind: 'inch-type', inches: 1 / 2.8 },
    })
    expect(said(typed)).toContain('pixel pitch would settle it')
    expectNear(typed.lens!.pixelsPerRadian, 4e-3 / 2.9e-6, { rel: 0.06 }, 'half the span of the type')
    expect(readDataSheet({ widthPx: 1920, heightPx: 1080, focalLengthM: 4e-3 }).lens).toBe(null)
    expect(readDataSheet({ widthPx: 1920, heightPx: 1080 })).toMatchObject({ lens: null, readFrom: null })
  })

  it('tells angles against focal length and sensor, by how much', () => {
    const base = { widthPx: 1920, heightPx: 1080, focalLengthM: 4e-3, pixelPitchM: 2.9e-6 }
    // f/pitch = 1379.3 px per radian; a plain lens of 69.7 degrees agrees, one of 62 has 1597.8.
    expect(readDataSheet({ ...base, horizontalDeg: 70 }).contradictions).toEqual([])
    // 80 degrees across with 1379.3 px per radian are equidistant (960 / 0.6981 = 1375): a reading.
    const bent = readDataSheet({ ...base, horizontalDeg: 80 })
    expect(bent).toMatchObject({ contradictions: [], inDoubt: false })
    expect(codesOf(bent.readings)).toEqual(['angles-not-rectilinear', 'digits-leave'])
    expectNear(bent.lens!.p, 0, { abs: 0.25 }, 'near 0 only the square of p tells')
    expectNear(bent.lens!.pixelsPerRadian, 1379.31, { rel: 1e-4 })
    // 80 by 48 ask for p = 0.75, tan(0.75 x 40) / tan(0.75 x 24 degrees) = 16/9 to three digits, and for 960 x 0.75 / tan 30 degrees px per radian.
    const against = readDataSheet({ ...base, horizontalDeg: 80, verticalDeg: 48 })
    expect(codesOf(against.contradictions)).toEqual(['angles-against-focal-length'])
    expect(against.inDoubt).toBe(true)
    const byHand = (960 * 0.75) / Math.tan(Math.PI / 6)
    expectNear(against.contradictions[0]!.relative, byHand / 1379.31 - 1, { abs: 1e-3 })
    // At the most 2 asin(5.568/8) = 88.2 degrees, at the least 2 atan of it = 69.7.
    for (const [degrees, nearest] of [
      [100, 88.2],
      [60, 69.7],
    ] as const) {
      const impossible = readDataSheet({ ...base, horizontalDeg: degrees })
      // From corner to corner that lens sees 77 to 106 degrees: 100 may be that angle, 60 may not.
      const slips = degrees === 100 ? ['diagonal-for-horizontal'] : []
      expect(codesOf(impossible.contradictions)).toEqual([...slips, 'angle-impossible'])
      expectNear(impossible.contradictions.at(-1)!.relative, degrees / nearest - 1, { abs: 1e-3 })
      expect(impossible.lens!.pixelsPerRadian, 'the angle is gone on with').toBe(
        impossible.rectilinearPixelsPerRadian,
      )
    }
  })

  it('tells sensors that do not hold their pixels or have another shape', () => {
    const base = { widthPx: 3840, heightPx: 2160, horizontalDeg: 60 }
    const small = readDataSheet({
      ...base,
      pixelPitchM: 2.9e-6,
      sensor: { kind: 'inch-type', inches: 1 / 2.8 },
    })
    expect(codesOf(small.contradictions)).toEqual(['pitch-of-another-mode', 'sensor-against-pixel-pitch'])
    expect(small.contradictions[1]!.relative).toBeGreaterThan(0.9)
    expect(small.inDoubt, 'the lens is read from the angle').toBe(false)
    const square = readDataSheet({ ...base, sensor: { kind: 'size', widthM: 5e-3, heightM: 5e-3 } })
    expect(square.contradictions.map(({ code }) => code)).toEqual(['sensor-against-image'])
    const fits = readDataSheet({ ...base, sensor: { kind: 'size', widthM: 5.6e-3, heightM: 3.1e-3 } })
    expect(fits.contradictions).toEqual([])
  })

  it('never ends in a NaN, whatever angles are given, and refuses what is not a number', () => {
    const random = seededRandom(5)
    for (let round = 0; round < 2000; round++) {
      const reading = readDataSheet({
        widthPx: 100 + Math.floor(random.uniform() * 4000),
        heightPx: 100 + Math.floor(random.uniform() * 4000),
        horizontalDeg: Math.ceil(random.uniform() * 360),
        verticalDeg: Math.ceil(random.uniform() * 360),
        focalLengthM: 0.001 + 0.05 * random.uniform(),
        sensor: { kind: 'inch-type', inches: 0.2 + random.uniform() },
      })
      expect(reading.lens!.pixelsPerRadian).toBeGreaterThan(0)
      expect(Math.abs(reading.lens!.p)).toBeLessThanOrEqual(1)
      for (const { relative, message } of reading.contradictions) {
        expect(Number.isFinite(relative)).toBe(true)
        expect(message).not.toMatch(/NaN|undefined|null|Infinity/)
      }
    }
    const good = { widthPx: 1920, heightPx: 1080 }
    for (const bad of [
      { horizontalDeg: 0 },
      { verticalDeg: 361 },
      { focalLengthM: NaN },
      { pixelPitchM: -1 },
    ]) {
      expect(() => readDataSheet({ ...good, ...bad })).toThrow('data sheet')
    }
  })
})
