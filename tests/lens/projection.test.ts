import { describe, expect, it } from 'vitest'
import {
  pointToRay,
  projectionAngle,
  projectionRadius,
  radialPixelsPerRadian,
  rayToPoint,
  tangentialPixelsPerRadian,
} from '../../src/lens/projection.js'
import { seededRandom } from '../../src/math/random.js'
import { expectNear } from '../nearly.js'

const MEMBERS = [1, 0.5, 0.3, 1e-12, 0, -1e-12, -0.3, -0.5, -1]

/** An angle within the image of a member, radians. */
function widest(p: number): number {
  return p === 0 ? Math.PI : Math.min(Math.PI, Math.PI / 2 / Math.abs(p))
}

describe('the projection family', () => {
  it('gives back the angle whose radius it gave', () => {
    for (const p of MEMBERS) {
      for (const share of [0, 1e-9, 0.1, 0.5, 0.9, 0.999]) {
        const angleRad = share * widest(p)
        const back = projectionAngle(p, projectionRadius(p, angleRad)!)
        expectNear(back!, angleRad, { abs: 1e-12 }, `p = ${p}`)
      }
    }
  })

  it('is continuous in p through 0', () => {
    for (const p of [1e-3, 1e-6, 1e-9, 1e-15, 1e-300]) {
      for (const angleRad of [0.3, 1.2, 2.5]) {
        // tan and sin differ from their argument by its cube over 3 and over 6.
        const bound = 1e-15 + (p * p * angleRad ** 3) / 2
        expectNear(projectionRadius(p, angleRad)!, angleRad, { abs: bound })
        expectNear(projectionRadius(-p, angleRad)!, angleRad, { abs: bound })
      }
    }
  })

  it('has no image and no angle where there is none, and never a NaN', () => {
    expect(projectionRadius(1, Math.PI / 2)).toBe(null)
    expect(projectionRadius(0.5, Math.PI)).toBe(null)
    expect(projectionRadius(-1, 1.6)).toBe(null)
    expect(projectionRadius(0, -0.1)).toBe(null)
    expect(projectionRadius(0, 3.2)).toBe(null)
    expect(projectionRadius(1, NaN)).toBe(null)
    expect(projectionAngle(-1, 1.001)).toBe(null)
    expect(projectionAngle(-0.5, 2.001)).toBe(null)
    expect(projectionAngle(0, 3.2)).toBe(null)
    expect(projectionAngle(1, -0.1)).toBe(null)
    expect(projectionAngle(1, NaN)).toBe(null)
    expect(projectionAngle(1, Infinity)).toBe(null)
  })

  it('grows along and across the radius as its derivative says', () => {
    const step = 1e-6
    for (const p of MEMBERS) {
      const lens = { p, pixelsPerRadian: 1200, centreX: 0, centreY: 0 }
      for (const share of [0.1, 0.4, 0.8]) {
        const angleRad = share * Math.min(widest(p), 3)
        const slope =
          (projectionRadius(p, angleRad + step)! - projectionRadius(p, angleRad - step)!) / (2 * step)
        expectNear(radialPixelsPerRadian(lens, angleRad)!, 1200 * slope, { rel: 1e-7 }, `along, p = ${p}`)
        // A small turn about the axis moves the ray by sin(t) times it, its image by r times it.
        const here = rayToPoint(lens, [Math.sin(angleRad), 0, Math.cos(angleRad)])!
        const turned = rayToPoint(lens, [
          Math.sin(angleRad) * Math.cos(step),
          Math.sin(angleRad) * Math.sin(step),
          Math.cos(angleRad),
        ])!
        const moved = Math.hypot(turned[0] - here[0], turned[1] - here[1]) / (Math.sin(angleRad) * step)
        expectNear(tangentialPixelsPerRadian(lens, angleRad)!, moved, { rel: 1e-6 }, `across, p = ${p}`)
      }
      expect(radialPixelsPerRadian(lens, 0)).toBe(1200)
      expect(tangentialPixelsPerRadian(lens, 0)).toBe(1200)
    }
    const evenly = { p: 0, pixelsPerRadian: 1200, centreX: 0, centreY: 0 }
    expect(tangentialPixelsPerRadian(evenly, Math.PI)).toBe(null)
    expect(radialPixelsPerRadian({ ...evenly, p: 1 }, 1.6)).toBe(null)
  })
})

describe('rays and image points', () => {
  it('give each other back', () => {
    const random = seededRandom(11)
    for (const p of MEMBERS) {
      const lens = { p, pixelsPerRadian: 900, centreX: 1920.5, centreY: 1079 }
      for (let round = 0; round < 200; round++) {
        const point = [random.uniform() * 2600, random.uniform() * 1900] as const
        const ray = pointToRay(lens, point)
        if (ray === null) continue
        expectNear(Math.hypot(...ray), 1, { abs: 1e-12 })
        const back = rayToPoint(lens, [ray[0] * 7, ray[1] * 7, ray[2] * 7])!
        expectNear(back[0], point[0], { abs: 1e-8 })
        expectNear(back[1], point[1], { abs: 1e-8 })
      }
    }
  })

  it('of the pinhole are the ratio of sideways to forwards', () => {
    const lens = { p: 1, pixelsPerRadian: 1000, centreX: 500, centreY: 400 }
    const point = rayToPoint(lens, [0.3, -0.2, 2])!
    expectNear(point[0], 650, { abs: 1e-9 })
    expectNear(point[1], 300, { abs: 1e-9 })
  })

  it('meet at the centre, and end where the lens sees nothing', () => {
    const lens = { p: -1, pixelsPerRadian: 1000, centreX: 500, centreY: 400 }
    expect(pointToRay(lens, [500, 400])).toEqual([0, 0, 1])
    expect(rayToPoint(lens, [0, 0, 3])).toEqual([500, 400])
    expect(rayToPoint(lens, [0, 0, -3])).toBe(null)
    expect(rayToPoint(lens, [1, 0, -0.1])).toBe(null)
    expect(pointToRay(lens, [1501, 400])).toBe(null)
    expect(rayToPoint(lens, [NaN, 0, 1])).toBe(null)
  })
})
