import type { GreyImage } from '../../src/chart/match/greyImage.js'
import {
  chartAreas,
  chartFace,
  evenInk,
  FRAME_HEIGHT_MODULES,
  FRAME_WIDTH_MODULES,
  moduleM,
  inkAt,
} from '../../src/chart/printed/chartGeometry.js'
import type { ChartPaper } from '../../src/chart/printed/chartPapers.js'
import {
  projectionRadius,
  radialPixelsPerRadian,
  tangentialPixelsPerRadian,
} from '../../src/lens/projection.js'
import type { Random } from '../../src/math/random.js'
import type { CameraStation } from '../../src/simulate/camera/cameraStation.js'
import { encodeJpeg } from '../../src/simulate/camera/encodeJpeg.js'
import { encodeSrgb } from '../../src/simulate/camera/encodeSrgb.js'
import { exposeImage } from '../../src/simulate/camera/exposeImage.js'
import { copyImage, evenImage, type LinearImage } from '../../src/simulate/camera/linearImage.js'
import { paintTarget } from '../../src/simulate/camera/paintTarget.js'
import type { PlanarTarget } from '../../src/simulate/camera/planarTarget.js'
import { targetPose } from '../../src/simulate/camera/targetPose.js'
import { targetTruth, type TargetTruth } from '../../src/simulate/camera/targetTruth.js'
import sharp from 'sharp'

/** The light a simulated still is taken in. Blur px; noise and contrast (paper to ink) in code values; a JPEG quality over 100 writes none. */
export interface ChartCondition {
  readonly name: string
  readonly blurSigmaPx: number
  readonly noiseDn: number
  readonly contrastDn: number
  readonly jpegQuality: number
}

export const DAY: ChartCondition = {
  name: 'day',
  blurSigmaPx: 0.7,
  noiseDn: 2,
  contrastDn: 150,
  jpegQuality: 88,
}
export const SOFT: ChartCondition = { ...DAY, name: 'soft', blurSigmaPx: 1.5 }
/** By day, at the most noise of a good still. */
export const NOISY: ChartCondition = { ...DAY, name: 'noisy', noiseDn: 3 }
export const DARK: ChartCondition = {
  name: 'dark',
  blurSigmaPx: 1,
  noiseDn: 12,
  contrastDn: 51,
  jpegQuality: 88,
}

/** How the chart is held. `pixelsPerModule` is what it would have facing the camera. */
export interface ChartView {
  readonly paper: ChartPaper
  readonly pixelsPerModule: number
  readonly yawDeg: number
  readonly pitchDeg: number
  readonly rollDeg: number
  /** A flat lens, or a wide one (2F sin(t/2)) with the chart 40 to 72 degrees off its axis. */
  readonly wide: boolean
  /** Another projection of a wide lens, and where it shows the chart, radians off its axis. */
  readonly lensP?: number
  readonly offAxisRad?: number
  readonly width?: number
  readonly height?: number
}

/** A simulated still as decoded, and the exact truth of the frame's rectangle in its coordinates. */
export interface ChartStill {
  readonly image: GreyImage
  readonly truth: TargetTruth
  /** Where the lens' axis meets the picture, px: the middle of the whole still that a wide lens' picture is a part of. */
  readonly axis: readonly [number, number]
}

/** The whole still that a wide lens' picture is a part of, px: some 200 degrees across its diagonal. */
export const WIDE_STILL = { width: 1188, height: 500 } as const

const PAPER_LIGHT = 0.85
const INK_LIGHT = 0.05

/** Linear light of the chart as a surface, metres from the sheet's middle; the strip is drawn as its coverage. */
export function chartTarget(
  paper: ChartPaper,
  pose: Pick<PlanarTarget, 'centre' | 'right' | 'down'>,
  reflectance?: (uM: number, vM: number, widthM: number, heightM: number) => number,
): PlanarTarget {
  const areas = chartAreas(chartFace(paper.face))
  const even = evenInk(areas)
  const module = moduleM(paper)
  const [halfWidthM, halfHeightM] = [paper.widthM / 2, paper.heightM / 2]
  return {
    ...pose,
    halfWidthM,
    halfHeightM,
    surface: (u, v, width, height, out) => {
      let ink =
        reflectance === undefined
          ? 9 * even(7 + u / module, 5 + v / module, (width + height) / 2 / module)
          : 9 * (1 - reflectance(u, v, width, height))
      if (Number.isNaN(ink)) {
        ink = 0
        for (let j = -1; j <= 1; j += 1)
          for (let i = -1; i <= 1; i += 1)
            ink += inkAt(areas, 7 + (u + (i * width) / 3) / module, 5 + (v + (j * height) / 3) / module)
      }
      const light = PAPER_LIGHT + (INK_LIGHT - PAPER_LIGHT) * (ink / 9)
      out.red = light
      out.green = light
      out.blue = light
      out.coverage = covered(u, width, halfWidthM) * covered(v, height, halfHeightM)
    },
  }
}

/** How much of a length about a place lies on the sheet. */
function covered(at: number, size: number, half: number): number {
  return Math.min(1, Math.max(0, (half - Math.abs(at)) / size + 0.5))
}

/** A cluttered background in linear light: slopes of light, boxes, bars, panes with frames, specks. */
export function clutter(width: number, height: number, random: Random): LinearImage {
  const image = evenImage({ left: 0, top: 0, width, height }, 1, 0.2)
  const slopeX = 0.3 * (random.uniform() - 0.5)
  const slopeY = 0.3 * (random.uniform() - 0.5)
  for (let y = 0; y < height; y += 1)
    for (let x = 0; x < width; x += 1)
      image.data[y * width + x]! += 0.2 * (slopeX * (x / width) + slopeY * (y / height)) + 0.04
  const paint = (cx: number, cy: number, halfW: number, halfH: number, turn: number, light: number): void => {
    const cos = Math.cos(turn)
    const sin = Math.sin(turn)
    const reach = Math.ceil(Math.hypot(halfW, halfH))
    for (let y = Math.max(0, Math.floor(cy - reach)); y < Math.min(height, cy + reach); y += 1)
      for (let x = Math.max(0, Math.floor(cx - reach)); x < Math.min(width, cx + reach); x += 1) {
        const u = Math.abs((x - cx) * cos + (y - cy) * sin)
        const v = Math.abs(-(x - cx) * sin + (y - cy) * cos)
        if (u < halfW && v < halfH) image.data[y * width + x] = light
      }
  }
  const count = Math.round((width * height) / 2500)
  for (let n = 0; n < count; n += 1) {
    const size = 3 * 25 ** random.uniform()
    const [cx, cy] = [random.uniform() * width, random.uniform() * height]
    const [halfW, halfH] = [size * (0.3 + random.uniform()), size * (0.3 + random.uniform())]
    const turn = random.uniform() < 0.6 ? (random.uniform() - 0.5) * 0.3 : random.uniform() * Math.PI
    const light = 0.02 + 0.9 * random.uniform() ** 2
    paint(cx, cy, halfW, halfH, turn, light)
    if (random.uniform() < 0.4)
      paint(cx, cy, halfW * 0.7, halfH * 0.7, turn, 0.02 + 0.9 * random.uniform() ** 2)
  }
  return image
}

/** The gain at which paper and ink differ by so many code values. */
export function gainFor(contrastDn: number): number {
  let [low, high] = [1e-4, 1 / PAPER_LIGHT]
  for (let step = 0; step < 50; step += 1) {
    const middle = (low + high) / 2
    if (encodeSrgb(middle * PAPER_LIGHT) - encodeSrgb(middle * INK_LIGHT) < contrastDn) low = middle
    else high = middle
  }
  return high
}

/** Linear light of paper and ink in a condition's stills, 1 = white. */
export function chartLight({ contrastDn }: ChartCondition): { readonly paper: number; readonly ink: number } {
  const gain = gainFor(contrastDn)
  return { paper: gain * PAPER_LIGHT, ink: gain * INK_LIGHT }
}

/** Station and pose of a view: the chart lies wholly in the picture at a place drawn by `random`. */
export function placeChart(
  view: ChartView,
  random: Random,
): { station: CameraStation; pose: Pick<PlanarTarget, 'centre' | 'right' | 'down'> } {
  const width = view.width ?? 480
  const height = view.height ?? 360
  const module = moduleM(view.paper)
  const reach = (8.8 * view.pixelsPerModule) / 1
  const free = (size: number): number => Math.max(0, size / 2 - reach - 4) * (2 * random.uniform() - 1)
  const offX = free(width)
  const offY = free(height)
  const rad = Math.PI / 180
  const turns = { yawRad: view.yawDeg * rad, pitchRad: view.pitchDeg * rad, rollRad: view.rollDeg * rad }
  const mountHeightM = 2.6
  const F = view.wide ? 420 : 1400
  const mostDeg = Math.min(72, (2 * Math.asin((WIDE_STILL.width / 2 - reach - 8) / 2 / F)) / rad)
  const drawn = view.wide ? (40 + (mostDeg - 40) * random.uniform()) * rad : 0
  const angle = view.wide ? (view.offAxisRad ?? drawn) : 0
  const p = view.wide ? (view.lensP ?? -0.5) : 1
  const off = F * projectionRadius(p, angle)!
  const lens = { p, pixelsPerRadian: F, centreX: width / 2 - off, centreY: height / 2 }
  const bearing = view.wide ? angle + offX / F : Math.atan(offX / F)
  const density = view.wide
    ? Math.sqrt(radialPixelsPerRadian(lens, bearing)! * tangentialPixelsPerRadian(lens, bearing)!)
    : F
  const distanceM = (density * module) / view.pixelsPerModule
  const heightM = mountHeightM - (offY / F) * distanceM * Math.cos(bearing)
  const station: CameraStation = { width, height, lens, mountHeightM, tiltRad: 0 }
  return { station, pose: targetPose(station, { distanceM, heightM, bearingRad: bearing, ...turns }) }
}

/** What a still may have beside its view and its light. */
export interface ChartExtra {
  readonly background?: LinearImage
  /** The camera's unsharp mask. */
  readonly sharpen?: { readonly sigmaPx: number; readonly amount: number }
  /** What the sheet shows, 0 ink to 1 paper, as a mean over a box (metres from its middle), in place of the chart's own geometry. */
  readonly reflectance?: (uM: number, vM: number, widthM: number, heightM: number) => number
}

/** A view as the sensor gets it, without noise: any number of stills can be taken of it. */
export interface ChartLight extends Pick<ChartStill, 'truth' | 'axis'> {
  readonly station: CameraStation
  readonly light: LinearImage
}

/** Renders a view in linear light. */
export function renderChart(
  view: ChartView,
  condition: ChartCondition,
  random: Random,
  extra: ChartExtra = {},
): ChartLight {
  const { station, pose } = placeChart(view, random)
  const background = extra.background ?? clutter(station.width, station.height, random)
  const light = copyImage(background)
  const target = chartTarget(view.paper, pose, extra.reflectance)
  paintTarget(light, station, target, { perPixel: 4, blurSigmaPx: condition.blurSigmaPx })
  const module = moduleM(view.paper)
  const truth = targetTruth(station, pose, FRAME_WIDTH_MODULES * module, FRAME_HEIGHT_MODULES * module)
  return { station, light, truth, axis: [station.lens.centreX, station.lens.centreY] }
}

/** Exposes, writes and decodes one still of a rendered view. */
export async function exposeChart(
  { light, truth, axis }: ChartLight,
  condition: ChartCondition,
  random: Random,
  extra: ChartExtra = {},
): Promise<ChartStill> {
  const exposed = exposeImage(
    light,
    {
      gain: gainFor(condition.contrastDn),
      readNoiseDn: condition.noiseDn,
      shotNoiseDn: 0,
      ...(extra.sharpen === undefined ? {} : { sharpen: extra.sharpen }),
    },
    random,
  )
  const { width, height, data } = exposed
  if (condition.jpegQuality > 100)
    return { image: { width, height, data: data.map(Math.round) }, truth, axis }
  return { image: await throughJpeg(exposed, condition.jpegQuality), truth, axis }
}

/** Takes and decodes one still. */
export async function takeChartStill(
  view: ChartView,
  condition: ChartCondition,
  random: Random,
  extra: ChartExtra = {},
): Promise<ChartStill> {
  return exposeChart(renderChart(view, condition, random, extra), condition, random, extra)
}

/** A picture written as JPEG and read back as luma. */
export async function throughJpeg(
  image: Parameters<typeof encodeJpeg>[0],
  quality: number,
): Promise<GreyImage> {
  const bytes = await encodeJpeg(image, quality)
  return decodeGrey(bytes)
}

/** A file's luma code values. */
export async function decodeGrey(input: Buffer | string): Promise<GreyImage> {
  const { data, info } = await sharp(input)
    .flatten({ background: '#fff' })
    .toColourspace('b-w')
    .raw()
    .toBuffer({ resolveWithObject: true })
  const grey = new Float32Array(info.width * info.height)
  for (let at = 0; at < grey.length; at += 1) grey[at] = data[at * info.channels]!
  return { width: info.width, height: info.height, data: grey }
}
