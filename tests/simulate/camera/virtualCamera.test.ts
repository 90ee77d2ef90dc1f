import { describe, expect, it } from 'vitest'
import type { CameraLens } from '../../../src/lens/cameraLens.js'
import { seededRandom } from '../../../src/math/random.js'
import {
  projectToImage,
  viewDirection,
  type CameraStation,
} from '../../../src/simulate/camera/cameraStation.js'
import { exposeImage } from '../../../src/simulate/camera/exposeImage.js'
import {
  gaussianPixelCrossing,
  gaussianPixelResponse,
} from '../../../src/simulate/camera/gaussianPixelResponse.js'
import { evenImage } from '../../../src/simulate/camera/linearImage.js'
import { paintTarget } from '../../../src/simulate/camera/paintTarget.js'
import { greySurface, shareWithin, type PlanarTarget } from '../../../src/simulate/camera/planarTarget.js'
import { targetPose } from '../../../src/simulate/camera/targetPose.js'
import { targetTruth } from '../../../src/simulate/camera/targetTruth.js'
import { takeStill } from '../../../src/simulate/camera/virtualCamera.js'
import { expectNear } from '../../nearly.js'

const lensOf = (p: number, pixelsPerRadian: number): CameraLens => ({
  p,
  pixelsPerRadian,
  centreX: 960,
  centreY: 540,
})
const stationOf = (p: number, tiltRad = 0, mountHeightM = 1): CameraStation => ({
  width: 1920,
  height: 1080,
  lens: lensOf(p, 1100),
  mountHeightM,
  tiltRad,
})

/** A white board on a black panel, w x h metres of white. */
function boardTarget(
  station: CameraStation,
  distanceM: number,
  rollRad: number,
  w = 0.6,
  h = 0.4,
): PlanarTarget {
  const pose = targetPose(station, { distanceM, heightM: 1, rollRad })
  const surface = greySurface(
    w,
    h,
    (u, v, du, dv) => 0.05 + 0.75 * shareWithin(u, du, -w / 2, w / 2) * shareWithin(v, dv, -h / 2, h / 2),
  )
  return { ...pose, halfWidthM: w, halfHeightM: h, surface }
}

describe('the geometry of the virtual camera', () => {
  it('sees along the ray of an image point what it projects to that point', () => {
    for (const p of [1, 0.5, 0, -0.5, -1]) {
      const station = stationOf(p, 0.2, 2.6)
      for (const point of [
        [100.25, 60],
        [960, 540],
        [1700, 900.5],
      ] as const) {
        const d = viewDirection(station, point)!
        const back = projectToImage(station, [7 * d[0], 7 * d[1], 2.6 + 7 * d[2]])!
        expectNear(back[0], point[0], { abs: 1e-8 }, `p ${p}`)
        expectNear(back[1], point[1], { abs: 1e-8 }, `p ${p}`)
      }
    }
  })

  it('gives a facing target on the axis the density F/d, whatever the projection', () => {
    for (const p of [1, 0, -1]) {
      const station = stationOf(p)
      const pose = targetPose(station, { distanceM: 8, heightM: 1 })
      const truth = targetTruth(station, pose, 0.6, 0.4)
      expectNear(truth.horizontalPxPerM, 1100 / 8, { rel: 1e-8 })
      expectNear(truth.verticalPxPerM, 1100 / 8, { rel: 1e-8 })
      expectNear(truth.distanceM, 8, { abs: 1e-12 })
    }
  })

  it('foreshortens by the cosine of yaw across and of pitch down, and rolls clockwise', () => {
    const station = stationOf(0)
    const at = (extra: object) =>
      targetTruth(station, targetPose(station, { distanceM: 8, heightM: 1, ...extra }), 0.6, 0.4)
    expectNear(at({ yawRad: 0.5 }).horizontalPxPerM, (1100 / 8) * Math.cos(0.5), { rel: 1e-8 })
    expectNear(at({ yawRad: 0.5 }).verticalPxPerM, 1100 / 8, { rel: 1e-8 })
    expectNear(at({ pitchRad: 0.3 }).verticalPxPerM, (1100 / 8) * Math.cos(0.3), { rel: 1e-8 })
    const rolled = at({ rollRad: 0.2 }).corners
    expect(rolled[1][1]).toBeGreaterThan(rolled[0][1])
    expect(rolled[1][0]).toBeGreaterThan(rolled[0][0])
    expect(rolled[3][1]).toBeGreaterThan(rolled[0][1])
  })

  it('paints as much light as the outline encloses, centred on its centre', () => {
    const station = stationOf(1)
    for (const roll of [0, 0.1]) {
      const target = boardTarget(station, 12, roll)
      const truth = targetTruth(station, target, 0.6, 0.4)
      const image = evenImage({ left: 860, top: 460, width: 200, height: 160 }, 1, 0.05)
      paintTarget(image, station, target, { perPixel: 4, blurSigmaPx: 0.7 })
      let [area, x, y] = [0, 0, 0]
      image.data.forEach((value, index) => {
        const share = (value - 0.05) / 0.75
        area += share
        x += share * (860.5 + (index % 200))
        y += share * (460.5 + Math.floor(index / 200))
      })
      const enclosed = shoelace(truth.corners)
      expectNear(area, enclosed, { rel: 2e-5 }, 'sides are straight on this lens; single precision')
      expectNear(x / area, truth.centre[0], { abs: 1e-3 })
      expectNear(y / area, truth.centre[1], { abs: 1e-3 })
    }
  })
})

describe('the blur of the virtual camera', () => {
  it('passes the analytic modulation of a Gaussian and square pixels', () => {
    const station = stationOf(1)
    for (const sigma of [0.5, 0.8, 1.5]) {
      const slope = 0.05
      const target = boardTarget(station, 5, slope, 0.8, 0.8)
      const truth = targetTruth(station, target, 0.8, 0.8)
      const image = evenImage({ left: 800, top: 500, width: 120, height: 80 }, 1, 0.05)
      paintTarget(image, station, target, { perPixel: 4, blurSigmaPx: sigma })
      const [a, , , d] = truth.corners
      const angle = Math.atan2(d[0] - a[0], d[1] - a[1])
      // Each pixel's value is a sample of the edge spread at its distance from the exact edge; its derivative's transform is the response.
      const spread = [...image.data].map((value, index) => {
        const x = 800.5 + (index % 120) - a[0]
        const y = 500.5 + Math.floor(index / 120) - a[1]
        return { s: x * Math.cos(angle) - y * Math.sin(angle), e: (value - 0.05) / 0.75 }
      })
      spread.sort((one, two) => one.s - two.s)
      for (const frequency of [0.1, 0.25, 0.4]) {
        let [re, im] = [0, 0]
        for (let k = 1; k < spread.length; k += 1) {
          const s = (spread[k]!.s + spread[k - 1]!.s) / 2
          const de = spread[k]!.e - spread[k - 1]!.e
          re += de * Math.cos(2 * Math.PI * frequency * s)
          im += de * Math.sin(2 * Math.PI * frequency * s)
        }
        const wanted = gaussianPixelResponse(sigma, frequency)
        expectNear(
          Math.hypot(re, im),
          wanted,
          { abs: 0.004 },
          `sigma ${sigma} at ${frequency}; the pixel is turned 3 degrees`,
        )
      }
    }
  })

  it('knows where the response crosses half and a tenth', () => {
    // Values computed from the formula and listed to six digits: s 0.3, 0.5, 0.7, 1.0.
    const known = [
      [0.3, 0.442338, 0.76367],
      [0.5, 0.323088, 0.581282],
      [0.7, 0.247107, 0.448593],
      [1.0, 0.179964, 0.327665],
    ] as const
    for (const [sigma, half, tenth] of known) {
      expectNear(gaussianPixelCrossing(sigma, 0.5), half, { abs: 1e-6 })
      expectNear(gaussianPixelCrossing(sigma, 0.1), tenth, { abs: 1e-6 })
    }
  })
})

describe('the exposure of the virtual camera', () => {
  const region = { left: 0, top: 0, width: 200, height: 200 }
  const scatter = (data: Float32Array): number => {
    const mean = data.reduce((a, b) => a + b, 0) / data.length
    return Math.sqrt(data.reduce((a, b) => a + (b - mean) ** 2, 0) / (data.length - 1))
  }

  it('carries the stated noise: read alone in the dark, with shot noise in the light', () => {
    const exposure = { gain: 1, readNoiseDn: 3, shotNoiseDn: 4 }
    const dim = exposeImage(evenImage(region, 1, 0.02), exposure, seededRandom(1))
    const bright = exposeImage(evenImage(region, 1, 0.5), exposure, seededRandom(2))
    expectNear(
      scatter(dim.data),
      Math.sqrt(9 + 16 * 0.02),
      { rel: 0.015 },
      'four standard errors of 40,000 draws',
    )
    expectNear(scatter(bright.data), Math.sqrt(9 + 16 * 0.5), { rel: 0.015 })
  })

  it('clips at white and encodes by the published curve', () => {
    const quiet = { gain: 1, readNoiseDn: 0, shotNoiseDn: 0 }
    expectNear(exposeImage(evenImage(region, 1, 0.2), quiet, seededRandom(1)).data[0]!, 0.4845292 * 255, {
      abs: 0.003,
    })
    expect(exposeImage(evenImage(region, 1, 1.7), quiet, seededRandom(1)).data[0]).toBe(255)
  })

  it('lifts an edge beyond its levels when it sharpens', () => {
    const image = evenImage(region, 1, 0.2)
    for (let index = 0; index < image.data.length; index += 1) if (index % 200 < 100) image.data[index] = 0.4
    const base = { gain: 1, readNoiseDn: 0, shotNoiseDn: 0 }
    const plain = exposeImage(image, base, seededRandom(1)).data
    const sharp = exposeImage(image, { ...base, sharpen: { sigmaPx: 1, amount: 1 } }, seededRandom(1)).data
    expect(Math.max(...sharp)).toBeGreaterThan(Math.max(...plain) + 5)
    expect(Math.min(...sharp)).toBeLessThan(Math.min(...plain) - 5)
  })
})

describe('a taken still', () => {
  it('is the same for the same seed, another for another, and leaves its background alone', () => {
    const station = stationOf(0)
    const background = evenImage({ left: 900, top: 480, width: 120, height: 120 }, 3, 0.1)
    const request = {
      station,
      background,
      targets: [{ target: boardTarget(station, 20, 0.03) }],
      blurSigmaPx: 0.7,
      exposure: { gain: 1, readNoiseDn: 2, shotNoiseDn: 2 },
    }
    const one = takeStill(request, seededRandom(5)).image.data
    expect(takeStill(request, seededRandom(5)).image.data).toEqual(one)
    expect(takeStill(request, seededRandom(6)).image.data).not.toEqual(one)
    expect(background.data.every((value) => value === Math.fround(0.1))).toBe(true)
  })

  it('blown up has twice the pixels, its mean, and half the sharpness', () => {
    const station = stationOf(0)
    const request = {
      station,
      background: evenImage({ left: 900, top: 480, width: 120, height: 120 }, 1, 0.1),
      targets: [{ target: boardTarget(station, 20, 0.03) }],
      blurSigmaPx: 0.7,
      exposure: { gain: 1, readNoiseDn: 0, shotNoiseDn: 0 },
    }
    const plain = takeStill(request, seededRandom(5))
    const blown = takeStill({ ...request, upscale: 2 }, seededRandom(5))
    expect([blown.image.width, blown.image.height, blown.image.left]).toEqual([240, 240, 1800])
    const mean = (data: Float32Array): number => data.reduce((a, b) => a + b, 0) / data.length
    expectNear(mean(blown.image.data), mean(plain.image.data), { abs: 0.05 })
    expectNear(blown.f10, plain.f10 / 2, { rel: 1e-12 })
  })
})

function shoelace(corners: readonly (readonly [number, number])[]): number {
  return (
    Math.abs(
      corners.reduce((sum, [x, y], k) => {
        const [nextX, nextY] = corners[(k + 1) % corners.length]!
        return sum + x * nextY - nextX * y
      }, 0),
    ) / 2
  )
}
