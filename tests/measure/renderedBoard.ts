import sharp from 'sharp'
import type { Random } from '../../src/math/random.js'
import type { Quad } from '../../src/math/point.js'
import type { Raster } from '../../src/still/raster.js'

/** An even board before an even surround, as a camera with a Gaussian blur draws it. Lengths in px, light linear 0..1. */
export interface BoardScene {
  readonly widthPx: number
  readonly heightPx: number
  readonly rollRad: number
  readonly sigmaPx: number
  readonly board: number
  readonly surround: number
  /** Board centre relative to the still's middle, px. */
  readonly shift: readonly [number, number]
  readonly marginPx?: number
  /** Rectangles painted on the board, in its own frame from its centre, px; they must not overlap each other. */
  readonly parts?: readonly BoardPart[]
}

export interface BoardPart {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
  readonly level: number
}

export interface RenderedBoard {
  readonly width: number
  readonly height: number
  /** Linear light. */
  readonly linear: Float64Array
  readonly corners: Quad
}

/** The normal integral by summing the density in small steps: slow to make, independent of the code under test. */
const TABLE = ((): Float64Array => {
  const table = new Float64Array(16001)
  let sum = 0
  const density = (x: number): number => Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI)
  for (let i = 1; i <= 16000; i += 1) {
    const [a, b] = [-8 + (i - 1) / 1000, -8 + i / 1000]
    sum += ((density(a) + 4 * density((a + b) / 2) + density(b)) / 6) * 0.001
    table[i] = sum
  }
  return table
})()

/** The standard normal integral. */
export function phi(x: number): number {
  if (x <= -8) return 0
  if (x >= 8) return 1
  const at = (x + 8) * 1000
  const low = Math.floor(at)
  return TABLE[low]! + (at - low) * (TABLE[low + 1]! - TABLE[low]!)
}

/** Gauss-Legendre places and weights of 4 points on a pixel of width 1. */
const PLACES = [-0.4305681557970263, -0.1699905217924281, 0.1699905217924281, 0.4305681557970263]
const WEIGHTS = [0.1739274225687269, 0.3260725774312731, 0.3260725774312731, 0.1739274225687269]

/**
 * Draws the board: a rectangle under an isotropic Gaussian is a product of two normal integrals in its own frame, exactly; the pixel's
 * square is integrated by 4 x 4 Gauss-Legendre points. (The formula under test integrates an endless edge in closed form instead.)
 */
export function renderBoard(scene: BoardScene): RenderedBoard {
  const margin = scene.marginPx ?? 24
  const cos = Math.cos(scene.rollRad)
  const sin = Math.sin(scene.rollRad)
  const width = Math.ceil(scene.widthPx * Math.abs(cos) + scene.heightPx * Math.abs(sin)) + 2 * margin
  const height = Math.ceil(scene.widthPx * Math.abs(sin) + scene.heightPx * Math.abs(cos)) + 2 * margin
  const [cx, cy] = [width / 2 + scene.shift[0], height / 2 + scene.shift[1]]
  const linear = new Float64Array(width * height)
  const reach = 7 * scene.sigmaPx + 1
  const [hw, hh] = [scene.widthPx / 2, scene.heightPx / 2]
  const share = (u: number, v: number, part: Omit<BoardPart, 'level'>): number =>
    (phi((u - part.left) / scene.sigmaPx) - phi((u - part.right) / scene.sigmaPx)) *
    (phi((v - part.top) / scene.sigmaPx) - phi((v - part.bottom) / scene.sigmaPx))
  const whole = { left: -hw, top: -hh, right: hw, bottom: hh }
  const mean = (x: number, y: number, part: Omit<BoardPart, 'level'>): number => {
    const u = x * cos + y * sin
    const v = -x * sin + y * cos
    const outside = Math.max(part.left - u, u - part.right, part.top - v, v - part.bottom)
    if (outside > reach) return 0
    if (Math.min(u - part.left, part.right - u, v - part.top, part.bottom - v) > reach) return 1
    let sum = 0
    for (let b = 0; b < 4; b += 1) {
      for (let a = 0; a < 4; a += 1) {
        const px = x + PLACES[a]!
        const py = y + PLACES[b]!
        sum += WEIGHTS[a]! * WEIGHTS[b]! * share(px * cos + py * sin, -px * sin + py * cos, part)
      }
    }
    return sum
  }
  for (let j = 0; j < height; j += 1) {
    for (let i = 0; i < width; i += 1) {
      const x = i + 0.5 - cx
      const y = j + 0.5 - cy
      let light = scene.surround + (scene.board - scene.surround) * mean(x, y, whole)
      for (const part of scene.parts ?? []) light += (part.level - scene.board) * mean(x, y, part)
      linear[j * width + i] = light
    }
  }
  const corner = (u: number, v: number): readonly [number, number] => [
    cx + u * cos - v * sin,
    cy + u * sin + v * cos,
  ]
  return {
    width,
    height,
    linear,
    corners: [corner(-hw, -hh), corner(hw, -hh), corner(hw, hh), corner(-hw, hh)],
  }
}

/** IEC 61966-2-1, written out here on its own. */
function encode(linear: number): number {
  return 255 * (linear <= 0.0031308 ? 12.92 * linear : 1.055 * Math.max(0, linear) ** (1 / 2.4) - 0.055)
}

/** What the camera does between the light and the file. */
export interface CameraRendering {
  readonly noiseCode: number
  /** JPEG quality, or null for none. */
  readonly quality: number | null
  /** Extra tone curve on code values 0..1, before noise. */
  readonly tone?: (encoded: number) => number
  /** Filter on code values, after noise. */
  readonly filter?: (codes: Float64Array, width: number, height: number) => Float64Array
}

/** Code values of a linear picture: encoded, noisy, filtered, rounded, and through JPEG. */
export async function photograph(
  picture: { readonly width: number; readonly height: number; readonly linear: Float64Array },
  camera: CameraRendering,
  random: Random,
): Promise<Raster> {
  const { width, height } = picture
  let codes = new Float64Array(width * height)
  // Most of a picture is even: what the last pixel came to is kept.
  let [light, toned] = [NaN, NaN]
  for (let i = 0; i < codes.length; i += 1) {
    if (picture.linear[i]! !== light) {
      light = picture.linear[i]!
      const encoded = encode(light)
      toned = camera.tone === undefined ? encoded : 255 * camera.tone(encoded / 255)
    }
    codes[i] = toned + camera.noiseCode * random.normal()
  }
  if (camera.filter !== undefined) codes = new Float64Array(camera.filter(codes, width, height))
  const bytes = new Uint8Array(codes.length)
  for (let i = 0; i < codes.length; i += 1) bytes[i] = Math.max(0, Math.min(255, Math.round(codes[i]!)))
  return {
    left: 0,
    top: 0,
    width,
    height,
    data: new Float32Array(await throughJpeg(bytes, width, height, camera.quality)),
  }
}

/** Grey bytes through JPEG and back; as they are where `quality` is null. */
export async function throughJpeg(
  bytes: Uint8Array,
  width: number,
  height: number,
  quality: number | null,
): Promise<Uint8Array> {
  if (quality === null) return bytes
  const jpeg = await sharp(bytes, { raw: { width, height, channels: 1 } })
    .jpeg({ quality })
    .toBuffer()
  const { data } = await sharp(jpeg).extractChannel(0).raw().toBuffer({ resolveWithObject: true })
  return new Uint8Array(data)
}

/** An unsharp mask in code values: adds `amount` times the difference from a Gaussian blur of `radiusPx`. */
export function unsharp(amount: number, radiusPx: number) {
  return (codes: Float64Array, width: number, height: number): Float64Array => {
    const reach = Math.ceil(4 * radiusPx)
    const kernel = Array.from({ length: 2 * reach + 1 }, (_, k) =>
      Math.exp(-((k - reach) ** 2) / (2 * radiusPx ** 2)),
    )
    const total = kernel.reduce((sum, value) => sum + value, 0)
    const pass = (from: Float64Array, stepX: number, stepY: number): Float64Array =>
      from.map((_, index) => {
        const [x, y] = [index % width, Math.floor(index / width)]
        let sum = 0
        for (let k = -reach; k <= reach; k += 1) {
          const px = Math.max(0, Math.min(width - 1, x + k * stepX))
          const py = Math.max(0, Math.min(height - 1, y + k * stepY))
          sum += kernel[k + reach]! * from[py * width + px]!
        }
        return sum / total
      })
    const soft = pass(pass(codes, 1, 0), 0, 1)
    return codes.map((code, index) => code + amount * (code - soft[index]!))
  }
}

/** Corners as a hand clicks them: `sigmaPx` off per axis and `outwardPx` outward at every end. */
export function clicked(corners: Quad, random: Random, sigmaPx = 0.5, outwardPx = 0.2): Quad {
  const cx = corners.reduce((sum, [x]) => sum + x, 0) / 4
  const cy = corners.reduce((sum, [, y]) => sum + y, 0) / 4
  const click = ([x, y]: readonly [number, number]): readonly [number, number] => [
    x + Math.sign(x - cx) * outwardPx + sigmaPx * random.normal(),
    y + Math.sign(y - cy) * outwardPx + sigmaPx * random.normal(),
  ]
  return [click(corners[0]), click(corners[1]), click(corners[2]), click(corners[3])]
}

/** Invented characters in a box 50 wide and 79 high, strokes 14 wide: upright and level bars that do not overlap. */
const CHARACTERS: readonly (readonly (readonly [
  left: number,
  top: number,
  right: number,
  bottom: number,
])[])[] = [
  [
    [0, 0, 14, 79],
    [36, 0, 50, 79],
    [14, 32, 36, 46],
  ],
  [
    [0, 0, 50, 14],
    [18, 14, 32, 79],
  ],
  [
    [0, 0, 14, 79],
    [14, 0, 50, 14],
    [14, 65, 50, 79],
  ],
  [
    [0, 0, 14, 79],
    [14, 0, 36, 14],
    [36, 0, 50, 79],
  ],
]

/** The strokes of an invented plate of 520 x 111 mm with seven characters, drawn `widthPx` wide. */
export function plateParts(widthPx: number, level: number): readonly BoardPart[] {
  const scale = widthPx / 520
  const lefts = [11, 72, 155, 216, 277, 338, 399].map((left) => left + 35)
  return lefts.flatMap((left, index) =>
    CHARACTERS[index % CHARACTERS.length]!.map(([a, b, c, d]) => ({
      left: (left + a - 260) * scale,
      top: (16 + b - 55.5) * scale,
      right: (left + c - 260) * scale,
      bottom: (16 + d - 55.5) * scale,
      level,
    })),
  )
}
