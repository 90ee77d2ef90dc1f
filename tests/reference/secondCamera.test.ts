import { describe, expect, it } from 'vitest'
import { FIELD, chartAreas, chartFace, inkAt, moduleM } from '../../src/chart/printed/chartGeometry.js'
import { chartPaper } from '../../src/chart/printed/chartPapers.js'
import { findChart } from '../support/findChart.js'
import type { GreyImage } from '../../src/chart/match/greyImage.js'
import type { Point } from '../../src/math/point.js'
import { seededRandom } from '../../src/math/random.js'
import { chartReference } from '../../src/measure/reference/chartReference.js'
import { measureDensity } from '../../src/measure/density/density.js'
import { measureFoundChart } from '../../src/walk/measure/measureFoundChart.js'
import { expectNear } from '../nearly.js'
import { withOpenCv } from '../support/openCv.js'

// A camera that shares nothing with src/simulate and src/lens: the textbook formulas of a pinhole (r = F tan t) and of an equidistant lens
// (r = F t), and OpenCV's remap, resize by areas and Gaussian blur in place of our own painting.

type Vector = readonly [number, number, number]

interface Camera {
  readonly width: number
  readonly height: number
  readonly pixelsPerRadian: number
  readonly equidistant: boolean
}

/** Where a chart hangs: its middle, metres right of, below and before the camera, turned by yaw (right side nearer) and then rolled clockwise. */
interface Hung {
  readonly middle: Vector
  readonly yawRad: number
  readonly rollRad: number
}

/** Unit vectors of the chart: to its right, down. */
function axesOf({ yawRad, rollRad }: Hung): readonly [Vector, Vector] {
  const across: Vector = [Math.cos(yawRad), 0, -Math.sin(yawRad)]
  const [cos, sin] = [Math.cos(rollRad), Math.sin(rollRad)]
  return [
    [cos * across[0], sin, cos * across[2]],
    [-sin * across[0], cos, -sin * across[2]],
  ]
}

const dot = (a: Vector, b: Vector): number => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]

/** The image of a place on the chart, metres from its middle; px from the outer corner of the top-left pixel. */
function seenAt(camera: Camera, hung: Hung, u: number, v: number): Point {
  const [right, down] = axesOf(hung)
  const [x, y, z] = [0, 1, 2].map((i) => hung.middle[i]! + u * right[i]! + v * down[i]!) as unknown as Vector
  const off = Math.hypot(x, y)
  const radius = camera.pixelsPerRadian * (camera.equidistant ? Math.atan2(off, z) : off / z)
  return [camera.width / 2 + (x / off) * radius, camera.height / 2 + (y / off) * radius]
}

/** The place on the chart's plane that a point of the picture shows, metres from its middle; far off where it shows none. */
function placeAt(camera: Camera, hung: Hung, [x, y]: Point): Point {
  const [dx, dy] = [x - camera.width / 2, y - camera.height / 2]
  const radius = Math.hypot(dx, dy) / camera.pixelsPerRadian
  const tangent = camera.equidistant ? Math.tan(radius) : radius
  const share = radius === 0 ? 0 : tangent / radius / camera.pixelsPerRadian
  const ray: Vector = [dx * share, dy * share, 1]
  const [right, down] = axesOf(hung)
  const normal: Vector = [
    right[1] * down[2] - right[2] * down[1],
    right[2] * down[0] - right[0] * down[2],
    right[0] * down[1] - right[1] * down[0],
  ]
  const reach = dot(hung.middle, normal) / dot(ray, normal)
  if (!(reach > 0 && reach < 100)) return [100, 100]
  const at = ray.map((value, i) => value * reach - hung.middle[i]!) as unknown as Vector
  return [dot(at, right), dot(at, down)]
}

const PAPER = chartPaper('A3')!
/** Fine samples of the printed chart a module, and of a pixel. */
const PER_MODULE = 40
const PER_PIXEL = 4
/** Light: paper, ink, and the even wall behind. */
const [WHITE, BLACK, WALL] = [0.55, 0.035, 0.15]

/** The printed sheet with a rim of wall, in linear light. */
const SHEET = ((): { width: number; height: number; light: Float32Array } => {
  const [width, height] = [(FIELD.width + 4) * PER_MODULE, (FIELD.height + 4) * PER_MODULE]
  const areas = chartAreas(chartFace(PAPER.face))
  const light = Float32Array.from({ length: width * height }, (_, at) => {
    const x = ((at % width) + 0.5) / PER_MODULE - 2
    const y = (Math.floor(at / width) + 0.5) / PER_MODULE - 2
    if (x < 0 || y < 0 || x > FIELD.width || y > FIELD.height) return WALL
    return WHITE + (BLACK - WHITE) * inkAt(areas, x, y)
  })
  return { width, height, light }
})()

/** The still: code values in sRGB (IEC 61966-2-1) with noise. */
function photographed(camera: Camera, hung: Hung, blurSigmaPx: number, noiseDn: number): GreyImage {
  const [wide, high] = [camera.width * PER_PIXEL, camera.height * PER_PIXEL]
  const [mapX, mapY] = [new Float32Array(wide * high), new Float32Array(wide * high)]
  for (let at = 0; at < mapX.length; at += 1) {
    const point: Point = [((at % wide) + 0.5) / PER_PIXEL, (Math.floor(at / wide) + 0.5) / PER_PIXEL]
    const [u, v] = placeAt(camera, hung, point)
    // OpenCV counts from the middle of the top-left sample.
    mapX[at] = (u / moduleM(PAPER)) * PER_MODULE + SHEET.width / 2 - 0.5
    mapY[at] = (v / moduleM(PAPER)) * PER_MODULE + SHEET.height / 2 - 0.5
  }
  const light = withOpenCv((cv, keep) => {
    const matOf = (values: Float32Array, rows: number, cols: number) =>
      keep(cv.matFromArray(rows, cols, cv.CV_32FC1, values))
    const [fine, even, soft] = [keep(new cv.Mat()), keep(new cv.Mat()), keep(new cv.Mat())]
    const [x, y] = [matOf(mapX, high, wide), matOf(mapY, high, wide)]
    cv.remap(matOf(SHEET.light, SHEET.height, SHEET.width), fine, x, y, cv.INTER_LINEAR, cv.BORDER_REPLICATE)
    cv.resize(fine, even, new cv.Size(camera.width, camera.height), 0, 0, cv.INTER_AREA)
    cv.GaussianBlur(even, soft, new cv.Size(0, 0), blurSigmaPx)
    return soft.data32F.slice()
  })
  const random = seededRandom(31)
  const data = light.map((linear) => {
    const encoded = linear <= 0.0031308 ? 12.92 * linear : 1.055 * linear ** (1 / 2.4) - 0.055
    return Math.round(Math.min(255, Math.max(0, 255 * encoded + noiseDn * random.normal())))
  })
  return { width: camera.width, height: camera.height, data }
}

describe('a chart before a camera made of OpenCV, of which nothing is known', () => {
  const pinhole: Camera = { width: 300, height: 220, pixelsPerRadian: 700, equidistant: false }
  const fisheye: Camera = { width: 480, height: 300, pixelsPerRadian: 300, equidistant: true }
  it.each([
    ['a pinhole', pinhole, { middle: [0.06, -0.04, 2.6], yawRad: 0.35, rollRad: 0.1 } as Hung, 0.0005],
    ['a pinhole, far', pinhole, { middle: [0.5, 0.3, 7], yawRad: -0.2, rollRad: -0.15 } as Hung, 0.001],
    ['an equidistant lens', fisheye, { middle: [0.62, 0.2, 1], yawRad: 0.3, rollRad: 0.05 } as Hung, 0.0005],
  ])('is found, and its density is true: %s', (_, camera, hung, tolerance) => {
    const image = photographed(camera, hung, 0.7, 1)
    const found = findChart(image)
    if (!found.ok) throw new Error(found.message)
    expect(found.value.faceSure && found.value.face).toBe(PAPER.face)
    const chart = measureFoundChart(
      { ...camera, lumaRegion: () => ({ left: 0, top: 0, ...image }) },
      found.value,
      PAPER,
    )
    if (!chart.ok) throw new Error(chart.message)
    const reference = { ...chartReference('chart', PAPER, null), widthToleranceM: 0, heightToleranceM: 0 }
    const measured = measureDensity(reference, chart.value.pick, {
      stillWidth: camera.width,
      stillHeight: camera.height,
      distanceM: Math.hypot(...hung.middle),
    })
    if (!measured.ok) throw new Error(measured.message)
    const { horizontal, vertical, horizontalU, verticalU } = measured.value.density
    const step = 1e-4
    const truth = ([u, v]: Point): number => {
      const [a, b] = [seenAt(camera, hung, -u, -v), seenAt(camera, hung, u, v)]
      return Math.hypot(b[0] - a[0], b[1] - a[1]) / (2 * step)
    }
    const [across, down] = [truth([step, 0]), truth([0, step])]
    console.log(
      `${(100 * (horizontal! / across - 1)).toFixed(3)} %, ${(100 * (vertical! / down - 1)).toFixed(3)} %, stated ${(100 * (horizontalU! / across)).toFixed(2)} %, ${(100 * (verticalU! / down)).toFixed(2)} %; ${found.value.pixelsPerModule.toFixed(1)} px a module`,
    )
    expectNear(horizontal!, across, { rel: tolerance }, 'across, px/m')
    expectNear(vertical!, down, { rel: tolerance }, 'down, px/m')
    // Through the lens its own bend tells, a bias of some 0.02 % is as large as the noise that is stated.
    if (camera.equidistant) return
    expect(Math.abs(horizontal! - across)).toBeLessThan(horizontalU!)
    expect(Math.abs(vertical! - down)).toBeLessThan(verticalU!)
  })
})
