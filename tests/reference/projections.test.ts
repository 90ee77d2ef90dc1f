import { describe, expect, it } from 'vitest'
import { projectionRadius } from '../../src/lens/projection.js'
import { predictMark } from '../../src/lens/predictMark.js'
import { readDataSheet } from '../../src/lens/readDataSheet.js'
import { expectNear } from '../nearly.js'

// r/f by the textbook formulas (rectilinear tan t, stereographic 2 tan(t/2), equidistant t, equisolid 2 sin(t/2): the
// documentation of a lens-correction library and fisheye texts; orthographic sin t: common practice, no source), worked
// out in double arithmetic for 30, 45, 60 and 80 degrees, and px per radian at the centre for 1920 px, 90 degrees across.
const TABLE = [
  { name: 'rectilinear', p: 1, radii: [0.57735, 1, 1.732051, 5.671282], pixelsPerRadian: 960 },
  {
    name: 'stereographic',
    p: 0.5,
    radii: [0.535898, 0.828427, 1.154701, 1.678199],
    pixelsPerRadian: 1158.823,
  },
  { name: 'equidistant', p: 0, radii: [0.523599, 0.785398, 1.047198, 1.396263], pixelsPerRadian: 1222.31 },
  { name: 'equisolid', p: -0.5, radii: [0.517638, 0.765367, 1, 1.285575], pixelsPerRadian: 1254.3 },
  { name: 'orthographic', p: -1, radii: [0.5, 0.707107, 0.866025, 0.984808], pixelsPerRadian: 1357.645 },
]

describe('the five named projections', () => {
  for (const { name, p, radii, pixelsPerRadian } of TABLE) {
    it(`include the ${name} at p = ${p}`, () => {
      for (const [index, degrees] of [30, 45, 60, 80].entries()) {
        expectNear(
          projectionRadius(p, (degrees * Math.PI) / 180)!,
          radii[index]!,
          { abs: 5.1e-7 },
          'six digits',
        )
      }
    })

    it(`have the ${name} one's px per radian at the centre of a sheet's picture`, () => {
      expectNear(960 / projectionRadius(p, Math.PI / 4)!, pixelsPerRadian, { abs: 5.1e-4 }, 'three digits')
      // The height that 50 degrees take in this projection makes a sheet with two angles of it.
      const heightPx = 2 * pixelsPerRadian * projectionRadius(p, (25 * Math.PI) / 180)!
      const reading = readDataSheet({ widthPx: 1920, heightPx, horizontalDeg: 90, verticalDeg: 50 })
      expectNear(
        reading.lens!.p,
        p,
        { abs: 1e-3 },
        'of seven digits, where near 0 only the square of p tells',
      )
      expectNear(reading.lens!.pixelsPerRadian, pixelsPerRadian, { rel: 1e-5 })
    })
  }
})

// The radii of the same table at 45 degrees and the px per radian of its last column, taken on to a target 8 m away: density is F/d in the
// middle; at the edge of the picture a target square to the ray gets F dr/dt along the radius and F r/sin t across it, worked out by hand:
// rectilinear 2 and 1.414214, stereographic 1.171573 both ways, equidistant 1 and 1.110721, equisolid 0.923880 and 1.082392,
// orthographic 0.707107 and 1 times F; the lesser counts.
const AT_THE_EDGE: Readonly<Record<string, number>> = {
  rectilinear: 1.414214,
  stereographic: 1.171573,
  equidistant: 1,
  equisolid: 0.92388,
  orthographic: 0.707107,
}

describe('what a sheet of each named projection foretells', () => {
  for (const { name, radii, pixelsPerRadian } of TABLE) {
    it(`is that of the ${name} in the middle and at the edge, with the rectilinear answer beside it`, () => {
      const angleRad = (25 * Math.PI) / 180
      const byHand: Readonly<Record<string, number>> = {
        rectilinear: Math.tan(angleRad),
        stereographic: 2 * Math.tan(angleRad / 2),
        equidistant: angleRad,
        equisolid: 2 * Math.sin(angleRad / 2),
        orthographic: Math.sin(angleRad),
      }
      const heightPx = (2 * 960 * byHand[name]!) / radii[1]!
      const reading = readDataSheet({ widthPx: 1920, heightPx, horizontalDeg: 90, verticalDeg: 50 })
      const at = predictMark(reading, 1920, 8)
      expectNear(at.densityPxPerM!, pixelsPerRadian / 8, { rel: 1e-5 }, 'six digits of the table')
      expectNear(at.densityAtEdgePxPerM!, (AT_THE_EDGE[name]! * pixelsPerRadian) / 8, { rel: 1e-3 })
      expectNear(at.rectilinearDensityPxPerM!, 120, { rel: 1e-9 }, '960 / tan 45 degrees over 8 m')
    })
  }

  it('shows that 100 by 52 degrees on 3840 x 2160 cannot both belong to a lens that draws straight lines straight', () => {
    // By plane trigonometry: 1920 / tan 50 degrees = 1611.07 px per radian, and 2 atan(1080 / 1611.07) = 67.67 degrees, not 52.
    const reading = readDataSheet({ widthPx: 3840, heightPx: 2160, horizontalDeg: 100, verticalDeg: 52 })
    expectNear(reading.rectilinearPixelsPerRadian!, 1611.07, { abs: 0.01 })
    expect(reading.contradictions).toEqual([])
    expect(reading.readings.map(({ code }) => code)).toEqual(['angles-not-rectilinear', 'digits-leave'])
    expect(reading.readings[0]!.message).toContain('67.7 degrees')
    // The member that has both lies between the equisolid, which sees 55.0 degrees up and down there, and the orthographic with 51.0.
    const upAndDown = (radius: (angleRad: number) => number, inverse: (r: number) => number): number =>
      (2 * inverse(radius((50 * Math.PI) / 180) * (9 / 16)) * 180) / Math.PI
    expectNear(
      upAndDown(
        (t) => 2 * Math.sin(t / 2),
        (r) => 2 * Math.asin(r / 2),
      ),
      55.0,
      { abs: 0.1 },
    )
    expectNear(upAndDown(Math.sin, Math.asin), 51.0, { abs: 0.1 })
    expect(reading.lens!.p).toBeGreaterThan(-1)
    expect(reading.lens!.p).toBeLessThan(-0.5)
  })
})
