import { describe, it } from 'vitest'
import { projectionRadius } from '../../src/lens/projection.js'
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
