import { describe, expect, it } from 'vitest'
import { jacobianThroughLens } from '../../src/measure/density/lensJacobian.js'
import { pointToRay } from '../../src/lens/projection.js'
import type { Point, Quad } from '../../src/math/point.js'
import { fitHomography } from '../../src/math/fitHomography.js'
import { jacobianAt, mapPoint } from '../../src/math/homography.js'
import { expectNear } from '../nearly.js'
import { seenRectangle } from '../measure/seenRectangle.js'
import { referenceResults } from '../support/fixtures.js'

// OpenCV's fisheye model (Kannala and Brandt, IEEE PAMI 28 (2006) 1335) with no distortion beyond its first term is the equidistant projection, p = 0.
interface SeenPoint {
  readonly point: Point
  readonly tangents: Point
}
const known = referenceResults<{ readonly even: SeenPoint[]; readonly corners: SeenPoint[] }>('fisheyeRays')

const lens = { p: 0, pixelsPerRadian: 1180, centreX: 960, centreY: 540 }

describe("OpenCV's fisheye model", () => {
  it('gives the same rays for image points all over the still', () => {
    expect(known.even).toHaveLength(99)
    for (const { point, tangents } of known.even) {
      const [x, y, z] = pointToRay(lens, point)!
      expectNear(x / z, tangents[0], { abs: 1e-7 }, String(point))
      expectNear(y / z, tangents[1], { abs: 1e-7 }, String(point))
    }
  })

  it('unbends a near board to the homography its corners are read through', () => {
    const scene = {
      p: 0,
      pixelsPerRadian: lens.pixelsPerRadian,
      width: 1920,
      height: 1080,
      widthM: 0.6,
      heightM: 0.4,
      distanceM: 1.4,
      bearingDeg: 20,
      downDeg: 6,
      yawDeg: 15,
      pitchDeg: -8,
    }
    const { corners, horizontal, vertical } = seenRectangle(scene)
    for (const [i, { point }] of known.corners.entries()) {
      expectNear(corners[i]![0], point[0], { abs: 1e-9 }, 'the corners OpenCV was given')
      expectNear(corners[i]![1], point[1], { abs: 1e-9 }, 'the corners OpenCV was given')
    }
    const unbent = known.corners.map(({ tangents }) => tangents)
    const plane: Quad = [
      [-0.3, -0.2],
      [0.3, -0.2],
      [0.3, 0.2],
      [-0.3, 0.2],
    ]
    const fit = fitHomography(plane, unbent)
    if (!fit.ok) throw new Error(fit.message)
    // Its middle by the unbent corners must be the direction ours is read in, and ours the density of the exact scene.
    const middle = mapPoint(fit.value.homography, 0, 0)
    const { jacobian, centreRay } = jacobianThroughLens(corners, 0.6, 0.4, lens)!
    expectNear(centreRay[0] / centreRay[2], middle[0], { abs: 1e-7 })
    expectNear(centreRay[1] / centreRay[2], middle[1], { abs: 1e-7 })
    expectNear(Math.hypot(...jacobian.alongX), horizontal, { rel: 1e-6 })
    expectNear(Math.hypot(...jacobian.alongY), vertical, { rel: 1e-6 })
    // Seen through the unbent plane alone (a pinhole of the same F), the same place has another density: what is off the axis is drawn smaller.
    const pinhole = jacobianAt(fit.value.homography, 0, 0)
    expect(lens.pixelsPerRadian * Math.hypot(...pinhole.alongX)).toBeGreaterThan(1.05 * horizontal)
  })
})
