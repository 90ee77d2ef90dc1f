import { FRAME_HEIGHT_MODULES, FRAME_WIDTH_MODULES, moduleM } from '../../src/chart/printed/chartGeometry.js'
import { chartPaper } from '../../src/chart/printed/chartPapers.js'
import { INK } from '../../src/measure/strip/stripFigures.js'
import { boxTo, type Homography } from '../../src/math/homography.js'
import { seededRandom, type Random } from '../../src/math/random.js'
import { blurImage } from '../../src/simulate/camera/blurImage.js'
import type { CameraStation } from '../../src/simulate/camera/cameraStation.js'
import { evenImage, type LinearImage } from '../../src/simulate/camera/linearImage.js'
import { paintTarget } from '../../src/simulate/camera/paintTarget.js'
import { greySurface, type PlanarTarget, type Surface } from '../../src/simulate/camera/planarTarget.js'
import { targetPose } from '../../src/simulate/camera/targetPose.js'
import { targetTruth, type TargetTruth } from '../../src/simulate/camera/targetTruth.js'
import { along } from '../../src/simulate/camera/worldVector.js'
import { carriedBoard } from '../../src/simulate/walker/demoReferences.js'
import { chartTarget, clutter } from '../../tests/support/chartStill.js'
import { stripSurface } from '../../tests/support/stripSurface.js'
import { cardLight, cardSize, drawCard, type CharacterCard } from './characters.js'

/** Of all stills as the camera gives them, px. */
export const FRAME_PX = { width: 480, height: 352 } as const
/** Fine samples a pixel and axis of what the walker holds. */
export const FINE = 4
const PIXELS_PER_RADIAN = 1400
const PAPER = chartPaper('A2')!
/** Of the simulated chart, of its light. */
const CHART_PAPER_LIGHT = 0.85

/** A flat thing on the plane the walker holds, its middle in metres from the plane's. */
interface HeldThing {
  readonly name: string
  readonly uM: number
  readonly vM: number
  readonly halfWidthM: number
  readonly halfHeightM: number
  readonly surface: Surface
}

/** What is held, at `FINE` samples a pixel, and the samples between which it lies. */
export interface FineLayer {
  readonly light: Float32Array
  readonly cover: Float32Array
  readonly bounds: {
    readonly left: number
    readonly top: number
    readonly right: number
    readonly bottom: number
  }
}

/** A walker as drawn: how far, how turned, how sharp; and all that is true of it at rest. */
export interface Walker {
  readonly seed: number
  readonly densityPxPerM: number
  readonly blurPx: number
  /** Light of what is held, as far as it covers, at `FINE` samples a pixel; what it covers; and what lies behind, at pixels. */
  readonly fine: () => FineLayer
  readonly behind: LinearImage
  readonly chart: TargetTruth
  readonly board: TargetTruth
  readonly cards: readonly { readonly card: CharacterCard; readonly map: Homography }[]
  /** Metres from the plane's middle to px. */
  readonly plane: Homography
  readonly truthOf: (thing: Pick<HeldThing, 'uM' | 'vM'>, widthM: number, heightM: number) => TargetTruth
}

const CHART_AT = { uM: -0.42, vM: -0.36 } as const
/** The sheet of strips, taped flush under the chart but for some millimetres. */
const STRIPS_AT = { uM: -0.417, vM: 0.063 } as const
const BOARD_AT = { uM: 0.33, vM: -0.36 } as const
const CARDS = [
  { strokeM: 0.008, contrast: 0.24, columns: 12, rows: 2, leftM: -0.74, topM: 0.3 },
  { strokeM: 0.016, contrast: 0.24, columns: 6, rows: 2, leftM: 0.01, topM: 0.2 },
  { strokeM: 0.008, contrast: 1, columns: 12, rows: 1, leftM: 0.01, topM: -0.04 },
  { strokeM: 0.016, contrast: 1, columns: 6, rows: 1, leftM: 0.01, topM: 0.045 },
] as const

const rad = Math.PI / 180

/** Draws walker number `seed` of a walk with chart, strips, board and cards of characters. Densities go from 60 to 270 px/m. */
export function drawWalker(seed: number): Walker {
  const random = seededRandom(7919 * seed + 11)
  // Evenly over densities and by turns sharp and soft, whatever the number of walkers.
  const densityPxPerM = 60 * (270 / 60) ** ((0.37 + 0.618034 * seed) % 1)
  const blurPx = seed % 2 === 0 ? 0.7 : 1.2
  const station: CameraStation = {
    ...FRAME_PX,
    lens: {
      p: 1,
      pixelsPerRadian: PIXELS_PER_RADIAN,
      centreX: FRAME_PX.width / 2,
      centreY: FRAME_PX.height / 2,
    },
    mountHeightM: 1.5,
    tiltRad: 0,
  }
  const some = (most: number): number => most * (2 * random.uniform() - 1)
  const pose = targetPose(station, {
    distanceM: PIXELS_PER_RADIAN / densityPxPerM,
    heightM: 1.5 + some(0.03),
    bearingRad: some(0.01),
    yawRad: some(10) * rad,
    pitchRad: some(5) * rad,
    rollRad: some(4) * rad,
  })
  const at = ({ uM, vM }: Pick<HeldThing, 'uM' | 'vM'>) => ({
    ...pose,
    centre: along(along(pose.centre, pose.right, uM), pose.down, vM),
  })
  const cards = CARDS.map(({ leftM, topM, ...asked }) => ({ leftM, topM, card: drawCard(asked, random) }))
  const things = [...walkerThings(at), ...cards.map(cardThing)]
  const truthOf: Walker['truthOf'] = (thing, widthM, heightM) =>
    targetTruth(station, at(thing), widthM, heightM)
  const module = moduleM(PAPER)
  return {
    seed,
    densityPxPerM,
    blurPx,
    fine: once(() =>
      fineLayer(
        station,
        things.map((thing) => ({ ...thing, ...at(thing) })),
      ),
    ),
    behind: blurred(clutter(FRAME_PX.width, FRAME_PX.height, random), blurPx),
    chart: truthOf(CHART_AT, FRAME_WIDTH_MODULES * module, FRAME_HEIGHT_MODULES * module),
    board: truthOf(BOARD_AT, 0.6, 0.4),
    cards: cards.map(({ leftM, topM, card }) => {
      const { widthM, heightM } = cardSize(card)
      const { corners } = truthOf({ uM: leftM + widthM / 2, vM: topM + heightM / 2 }, widthM, heightM)
      return { card, map: boxTo({ left: 0, top: 0, right: widthM, bottom: heightM }, corners) }
    }),
    plane: boxTo({ left: -0.5, top: -0.5, right: 0.5, bottom: 0.5 }, truthOf({ uM: 0, vM: 0 }, 1, 1).corners),
    truthOf,
  }
}

function walkerThings(
  at: (thing: Pick<HeldThing, 'uM' | 'vM'>) => Pick<PlanarTarget, 'centre' | 'right' | 'down'>,
): HeldThing[] {
  const [halfWidthM, halfHeightM] = [PAPER.widthM / 2, PAPER.heightM / 2]
  const surface = stripSurface(PAPER, CHART_PAPER_LIGHT, CHART_PAPER_LIGHT * INK)
  return [
    { name: 'chart', ...CHART_AT, ...chartTarget(PAPER, at(CHART_AT)) },
    { name: 'strips', ...STRIPS_AT, halfWidthM, halfHeightM, surface },
    { name: 'board', ...BOARD_AT, ...carriedBoard() },
  ]
}

function cardThing({ leftM, topM, card }: { leftM: number; topM: number; card: CharacterCard }): HeldThing {
  const { widthM, heightM } = cardSize(card)
  const [halfWidthM, halfHeightM] = [widthM / 2, heightM / 2]
  const light = (u: number, v: number, boxU: number, boxV: number): number => {
    let sum = 0
    for (const j of [-0.25, 0.25])
      for (const i of [-0.25, 0.25])
        sum += cardLight(card, u + halfWidthM + i * boxU, v + halfHeightM + j * boxV)
    return sum / 4
  }
  return {
    name: `${card.strokeM} m at ${card.contrast}`,
    uM: leftM + halfWidthM,
    vM: topM + halfHeightM,
    halfWidthM,
    halfHeightM,
    surface: greySurface(halfWidthM, halfHeightM, light),
  }
}

/** What lies behind, blurred as optics do. */
const blurred = (image: LinearImage, blurPx: number): LinearImage => ({
  ...image,
  data: blurImage(image, blurPx).data,
})

/** The things painted once on black and once on white tell their light and how much they cover. */
function fineLayer(station: CameraStation, things: readonly PlanarTarget[]): FineLayer {
  const { lens } = station
  const [width, height] = [FINE * station.width, FINE * station.height]
  const fine: CameraStation = {
    ...station,
    width,
    height,
    lens: {
      ...lens,
      pixelsPerRadian: FINE * lens.pixelsPerRadian,
      centreX: FINE * lens.centreX,
      centreY: FINE * lens.centreY,
    },
  }
  const [black, white] = [0, 1].map((level) => {
    const image = evenImage({ left: 0, top: 0, width, height }, 1, level)
    for (const thing of things) paintTarget(image, fine, thing, { perPixel: 1, blurSigmaPx: 0 })
    return image.data
  }) as [Float32Array, Float32Array]
  const cover = white.map((value, at) => 1 - value + black[at]!)
  const bounds = { left: width, top: height, right: 0, bottom: 0 }
  cover.forEach((share, at) => {
    if (share < 1e-6) return
    const [x, y] = [at % width, Math.floor(at / width)]
    bounds.left = Math.min(bounds.left, x)
    bounds.top = Math.min(bounds.top, y)
    bounds.right = Math.max(bounds.right, x + 1)
    bounds.bottom = Math.max(bounds.bottom, y + 1)
  })
  return { light: black, cover, bounds }
}

/** Made when it is first asked for. */
export function once<Value>(make: () => Value): () => Value {
  let made: { readonly value: Value } | undefined
  return () => (made ??= { value: make() }).value
}

/** How far the walker stands from where it rests, px, at a time, seconds: sways of some millimetres that no two walkers share. */
export function drawSway({ seed, densityPxPerM }: Walker): (seconds: number) => readonly [number, number] {
  const random: Random = seededRandom(131 * seed + 5)
  const waves = [0.35, 0.8, 0.35, 0.8].map((hertz, k) => ({
    px: (k % 2 === 0 ? 0.0016 : 0.0008) * densityPxPerM,
    hertz: hertz * (0.8 + 0.4 * random.uniform()),
    phase: 2 * Math.PI * random.uniform(),
  }))
  const sum = (from: number, seconds: number): number =>
    waves
      .slice(from, from + 2)
      .reduce((all, { px, hertz, phase }) => all + px * Math.sin(2 * Math.PI * hertz * seconds + phase), 0)
  return (seconds) => [sum(0, seconds), 0.5 * sum(2, seconds)]
}
