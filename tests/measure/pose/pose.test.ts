import { describe, expect, it } from 'vitest'
import type { CameraLens } from '../../../src/lens/cameraLens.js'
import { facingDensity, referencePose } from '../../../src/measure/pose/pose.js'
import type { Point, Quad } from '../../../src/math/point.js'
import { seededRandom } from '../../../src/math/random.js'
import { expectNear } from '../../nearly.js'
import { seenRectangle, type Scene } from '../seenRectangle.js'

const still = { width: 3840, height: 2160 }
const lensOf = (p: number): CameraLens => ({
  p,
  pixelsPerRadian: 2200,
  centreX: still.width / 2,
  centreY: still.height / 2,
})
const scene = (p: number, rest: Partial<Scene> = {}): Scene => ({
  ...still,
  p,
  pixelsPerRadian: 2200,
  widthM: 0.6,
  heightM: 0.4,
  distanceM: 5,
  ...rest,
})

function poseOf(seen: Scene) {
  const found = referencePose(seenRectangle(seen).corners, seen.widthM, seen.heightM, lensOf(seen.p))
  expect(found.ok, JSON.stringify(found)).toBe(true)
  if (!found.ok) throw new Error(found.message)
  return found.value
}

const EXACT_DEG = { abs: 2e-6 }

describe('the pose of a rectangle', () => {
  it.each([1, 0.5, 0, -0.5, -1])(
    'is found exactly through a lens of p = %d, anywhere in the picture',
    (p) => {
      const random = seededRandom(20 + 2 * p)
      const between = (low: number, high: number): number => low + (high - low) * random.uniform()
      for (let i = 0; i < 60; i++) {
        const truth = {
          distanceM: between(1, 12),
          bearingDeg: between(-38, 38),
          downDeg: between(-20, 20),
          yawDeg: between(-40, 40),
          pitchDeg: between(-35, 20),
          rollDeg: between(-170, 170),
        }
        const found = poseOf(scene(p, truth))
        const where = JSON.stringify(truth)
        expectNear(found.distanceM, truth.distanceM, { rel: 1e-7 }, where)
        expectNear(found.pose.yaw, truth.yawDeg, EXACT_DEG, where)
        expectNear(found.pose.pitch, truth.pitchDeg, EXACT_DEG, where)
        expectNear(found.pose.roll, truth.rollDeg, EXACT_DEG, where)
      }
    },
  )

  it('is zero for a rectangle that is square to its ray, on the axis and off it', () => {
    for (const p of [1, 0, -0.5]) {
      for (const bearingDeg of [0, 30]) {
        const { pose, distanceM } = poseOf(scene(p, { bearingDeg }))
        expectNear(distanceM, 5, { rel: 1e-7 })
        expectNear(pose.yaw, 0, { abs: 1e-3 }, 'a turn from zero shows in its square only')
        expectNear(pose.pitch, 0, { abs: 1e-3 })
        expectNear(pose.roll, 0, { abs: 1e-5 })
      }
    }
  })

  it('keeps the signs its docstring gives', () => {
    const nearRight = seenRectangle(scene(1, { yawDeg: 20, distanceM: 2 })).corners
    expect(nearRight[2][1] - nearRight[1][1]).toBeGreaterThan(nearRight[3][1] - nearRight[0][1])
    expectNear(poseOf(scene(1, { yawDeg: 20, distanceM: 2 })).pose.yaw, 20, EXACT_DEG)
    const nearTop = seenRectangle(scene(1, { pitchDeg: -20, distanceM: 2 })).corners
    expect(nearTop[1][0] - nearTop[0][0]).toBeGreaterThan(nearTop[2][0] - nearTop[3][0])
    expectNear(poseOf(scene(1, { pitchDeg: -20, distanceM: 2 })).pose.pitch, -20, EXACT_DEG)
    const clockwise = seenRectangle(scene(1, { rollDeg: 20 })).corners
    expect(clockwise[1][1]).toBeGreaterThan(clockwise[0][1])
    expectNear(poseOf(scene(1, { rollDeg: 20 })).pose.roll, 20, EXACT_DEG)
  })

  it.each([
    // Far from square the foreshortening tells the turn; near square it tells next to nothing and perspective must.
    ['well turned at 4 m', { yawDeg: 28, pitchDeg: -10, distanceM: 4, bearingDeg: 20 }, 0.5],
    ['hardly turned at 2 m', { yawDeg: 2, pitchDeg: 0, distanceM: 2 }, 0.5],
  ])('is found near enough from corners with half a pixel of noise: %s', (name, turned, mostScatterDeg) => {
    const random = seededRandom(5)
    const truth = scene(0, turned)
    const yaws: number[] = []
    for (let i = 0; i < 60; i++) {
      const noisy = seenRectangle(truth).corners.map(([x, y]): Point => [
        x + random.normal() / 2,
        y + random.normal() / 2,
      ])
      const found = referencePose(noisy as unknown as Quad, 0.6, 0.4, lensOf(0))
      if (!found.ok) throw new Error(found.message)
      yaws.push(found.value.pose.yaw)
    }
    const mean = yaws.reduce((a, b) => a + b, 0) / yaws.length
    const scatter = Math.sqrt(yaws.reduce((sum, yaw) => sum + (yaw - mean) ** 2, 0) / (yaws.length - 1))
    console.info(
      `${name}: yaw ${turned.yawDeg}, found ${mean.toFixed(2)}, scatter ${scatter.toFixed(2)} degrees`,
    )
    expectNear(mean, turned.yawDeg, { abs: 0.25 })
    expect(scatter).toBeLessThan(mostScatterDeg)
  })

  it('names corners that the lens cannot have shown', () => {
    const corners = seenRectangle(scene(0)).corners
    const orthographic = { p: -1, pixelsPerRadian: 100, centreX: 0, centreY: 0 }
    expect(referencePose(corners, 0.6, 0.4, orthographic)).toMatchObject({ ok: false, code: 'pose-unknown' })
  })
})

describe('the density of a target square to the ray', () => {
  it('is that of the truth: what the same rectangle gets once it is turned square', () => {
    for (const p of [1, 0, -0.5]) {
      const turned = scene(p, { yawDeg: 30, pitchDeg: -15, bearingDeg: 33, rollDeg: 0 })
      const square = seenRectangle({ ...turned, yawDeg: 0, pitchDeg: 0 })
      // Off the axis along x the radius runs level, so the two axes get exactly the radial and the tangential density.
      expectNear(facingDensity(poseOf(turned), lensOf(p))!, Math.min(square.horizontal, square.vertical), {
        rel: 1e-6,
      })
    }
  })
})
