import { describe, expect, it } from 'vitest'
import type { DataSheet } from '../../src/lens/dataSheet.js'
import { readDataSheet } from '../../src/lens/readDataSheet.js'

// Sheets of wide cameras, made up from the textbook formulas of r/f (see tests/reference/projections.test.ts) and from two lenses that are no member of the
// family: a cubic bend of the angle, and a plain lens with barrel distortion. Each is written as sheets are: whole degrees, tenths of a millimetre and of a
// micrometre, an inch type. All of it belongs together, so nothing of it is a contradiction, and the true F lies within what the digits leave.
const DEG = Math.PI / 180
const PROJECTIONS: Readonly<Record<string, (t: number) => number>> = {
  rectilinear: Math.tan,
  stereographic: (t) => 2 * Math.tan(t / 2),
  equidistant: (t) => t,
  equisolid: (t) => 2 * Math.sin(t / 2),
  'cubic bend': (t) => t - 0.1 * t ** 3,
  'cubic bend the other way': (t) => t + 0.15 * t ** 3,
  'barrel distortion': (t) => Math.tan(t) * (1 - 0.08 * Math.tan(t) ** 2),
}
const PICTURES = [
  { widthPx: 1920, heightPx: 1080, pitchUm: 2.9, inches: 1 / 2.8 },
  { widthPx: 2560, heightPx: 1440, pitchUm: 2, inches: 1 / 3 },
  { widthPx: 3840, heightPx: 2160, pitchUm: 2, inches: 1 / 1.8 },
  { widthPx: 2592, heightPx: 1944, pitchUm: 2.2, inches: 1 / 2.5 },
]

interface WideSheet {
  readonly name: string
  readonly pixelsPerRadian: number
  readonly sheet: DataSheet
}

/** The half angle whose image lies at a radius: bisection, for the formulas rise. */
function angleAt(radius: (t: number) => number, wanted: number): number {
  let [low, high] = [0, 88 * DEG]
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2
    if (radius(middle) < wanted) low = middle
    else high = middle
  }
  return low
}

const SHEETS: WideSheet[] = Object.entries(PROJECTIONS).flatMap(([name, radius]) =>
  [84, 92, 100, 108].flatMap((acrossDeg, index) => {
    const { widthPx, heightPx, pitchUm, inches } = PICTURES[index]!
    const pixelsPerRadian = widthPx / 2 / radius((acrossDeg / 2) * DEG)
    const downDeg = (2 * angleAt(radius, heightPx / 2 / pixelsPerRadian)) / DEG
    const tenthsMm = Math.round(pixelsPerRadian * pitchUm * 0.01)
    const angles = { horizontalDeg: acrossDeg, verticalDeg: Math.round(downDeg) }
    const optics = { focalLengthM: tenthsMm / 1e4, pixelPitchM: pitchUm * 1e-6 }
    const sensor = { kind: 'inch-type', inches } as const
    const size = { widthPx, heightPx }
    const called = (what: string): string => `${name}, ${acrossDeg} by ${downDeg.toFixed(1)}, ${what}`
    return [
      { name: called('angles'), pixelsPerRadian, sheet: { ...size, ...angles } },
      { name: called('angles and lens'), pixelsPerRadian, sheet: { ...size, ...angles, ...optics } },
      {
        name: called('everything'),
        pixelsPerRadian,
        sheet: { ...size, ...angles, ...optics, sensor },
      },
      {
        name: called('one angle and lens'),
        pixelsPerRadian,
        sheet: { ...size, horizontalDeg: acrossDeg, ...optics },
      },
    ]
  }),
)

describe(`${SHEETS.length} wide sheets that agree with themselves`, () => {
  it.each(SHEETS)('$name', ({ pixelsPerRadian, sheet }) => {
    const { contradictions, inDoubt, bounds, lens, readings } = readDataSheet(sheet)
    expect(contradictions.map(({ message }) => message)).toEqual([])
    expect(inDoubt).toBe(false)
    expect(bounds!.low).toBeLessThanOrEqual(pixelsPerRadian * (1 + 1e-9))
    expect(bounds!.high).toBeGreaterThanOrEqual(pixelsPerRadian * (1 - 1e-9))
    expect(bounds!.low <= lens!.pixelsPerRadian && lens!.pixelsPerRadian <= bounds!.high).toBe(true)
    expect(readings.map(({ code }) => code)).toContain('digits-leave')
  })
})
