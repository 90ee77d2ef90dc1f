import type { CameraLens } from '../../src/lens/cameraLens.js'
import { pointToRay } from '../../src/lens/projection.js'
import type { ToldMotion } from '../../src/scene/toldMotion.js'
import { seededRandom, type Random } from '../../src/math/random.js'

/** Lights of a simulated site: the same things with other reflectances, other shadows, other falloff and noise. */
export type SiteLight = 'day' | 'infrared' | 'lamp'

/** What a site's wall is made of. */
export type SiteKind = 'houses' | 'bricks' | 'fence' | 'foliage' | 'blank'

/** How a camera stands against how it stood: degrees to the right, down and clockwise as it looks; and how much larger it draws. */
export interface SitePose {
  readonly pan?: number
  readonly tilt?: number
  readonly roll?: number
  readonly zoom?: number
}

/** One exposure of a site. */
export interface SiteShot extends SitePose {
  readonly light: SiteLight
  /** What differs from shot to shot: walker, wind, clock, noise. */
  readonly seed: number
  /** Height of the walker as a share of the picture; nobody where 0. */
  readonly walker?: number
  readonly captions?: boolean
  /** Electrons at white; by the light unless given. */
  readonly electrons?: number
  /** How far leaves move, px. */
  readonly windPx?: number
}

/** An 8-bit grey picture, row by row. */
export interface GreyPicture {
  readonly width: number
  readonly height: number
  readonly data: Uint8Array
}

interface World {
  /** World px per radian, and its size. */
  readonly perRadian: number
  readonly width: number
  readonly height: number
  readonly lit: Readonly<Record<SiteLight, Float32Array>>
  readonly leaves: Uint8Array
}

const ELECTRONS: Readonly<Record<SiteLight, number>> = { day: 8000, infrared: 900, lamp: 1500 }
const FINER = 1.25
const MARGIN_RAD = 0.12

/** A place that no walk of the demonstration shows, seen by a camera that may turn and zoom exactly: everything lies far away, on a sphere. */
export class SceneSite {
  readonly width: number
  readonly height: number
  readonly lens: CameraLens
  readonly #world: World
  readonly #seed: number
  readonly #rays = new Map<number, Float64Array>()

  constructor(seed: number, kind: SiteKind, width: number, height: number, perRadian: number, p: number) {
    this.#seed = seed
    ;[this.width, this.height] = [width, height]
    this.lens = { p, pixelsPerRadian: perRadian, centreX: width / 2, centreY: height / 2 }
    const [x] = pointToRay(this.lens, [width, height / 2])!.map(Math.abs) as [number]
    const [, y] = pointToRay(this.lens, [width / 2, height])!.map(Math.abs) as [number, number]
    const corner = pointToRay(this.lens, [width, height])!
    const across = Math.max(Math.asin(x), Math.atan2(corner[0], corner[2])) + MARGIN_RAD
    const down = Math.max(Math.asin(y), Math.atan2(corner[1], Math.hypot(corner[0], corner[2]))) + MARGIN_RAD
    this.#world = worldOf(seed, kind, perRadian * FINER, across, down)
  }

  /** What the camera exposes, noise, captions and all. */
  shoot(shot: SiteShot): GreyPicture {
    const { width, height } = this
    const random = seededRandom(1000 * this.#seed + shot.seed)
    const linear = this.#seen(shot, random)
    if ((shot.walker ?? 0) > 0) drawWalker(linear, width, height, shot.walker!, random)
    const electrons = shot.electrons ?? ELECTRONS[shot.light]
    const data = new Uint8Array(width * height)
    for (let i = 0; i < data.length; i++) {
      const signal = linear[i]!
      const sigma = Math.sqrt(Math.max(0, signal) * electrons + 16) / electrons
      data[i] = code(signal + sigma * random.normal())
    }
    if (shot.light === 'infrared') addHotPixels(data, this.#seed)
    if (shot.captions !== false) drawCaptions(data, width, height, shot.seed)
    return { width, height, data }
  }

  #seen(
    { pan = 0, tilt = 0, roll = 0, zoom = 1, light, windPx = 3 }: SiteShot,
    random: Random,
  ): Float32Array {
    const { width, height } = this
    const world = this.#world
    const rays = this.#raysOf(zoom)
    const [a, b, c] = rotation(...([0 - tilt, pan, roll].map((deg) => (deg * Math.PI) / 180) as Three))
    const wind = Float64Array.from({ length: 2 * 16 * 9 }, () => windPx * random.normal())
    const lit = world.lit[light]
    const out = new Float32Array(width * height)
    for (let i = 0; i < out.length; i++) {
      const x = rays[3 * i]!
      const y = rays[3 * i + 1]!
      const z = rays[3 * i + 2]!
      const east = a![0] * x + a![1] * y + a![2] * z
      const down = b![0] * x + b![1] * y + b![2] * z
      const ahead = c![0] * x + c![1] * y + c![2] * z
      let u = world.width / 2 + Math.atan2(east, ahead) * world.perRadian
      let v = world.height / 2 + Math.atan2(down, Math.sqrt(east * east + ahead * ahead)) * world.perRadian
      if (world.leaves[clamp(v, world.height) * world.width + clamp(u, world.width)] === 1) {
        const [row, column] = [Math.floor(i / width), i % width]
        const gust = 2 * (Math.floor((row * 9) / height) * 16 + Math.floor((column * 16) / width))
        u += wind[gust]!
        v += wind[gust + 1]!
      }
      out[i] = sampled(lit, world.width, world.height, u, v)
    }
    return out
  }

  #raysOf(zoom: number): Float64Array {
    const known = this.#rays.get(zoom)
    if (known !== undefined) return known
    const { width, height } = this
    const lens = { ...this.lens, pixelsPerRadian: this.lens.pixelsPerRadian * zoom }
    const rays = new Float64Array(3 * width * height)
    for (let i = 0; i < width * height; i++)
      rays.set(pointToRay(lens, [(i % width) + 0.5, Math.floor(i / width) + 0.5])!, 3 * i)
    if (zoom === 1) this.#rays.set(zoom, rays)
    return rays
  }
}

type Three = [number, number, number]

/** The matrix that turns by a vector, row by row. */
function rotation(a: number, b: number, c: number): readonly Three[] {
  const angle = Math.hypot(a, b, c)
  if (angle === 0)
    return [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ]
  const [u, v, w] = [a / angle, b / angle, c / angle]
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)]
  const one = 1 - cos
  return [
    [cos + u * u * one, u * v * one - w * sin, u * w * one + v * sin],
    [v * u * one + w * sin, cos + v * v * one, v * w * one - u * sin],
    [w * u * one - v * sin, w * v * one + u * sin, cos + w * w * one],
  ]
}

function clamp(at: number, size: number): number {
  return Math.max(0, Math.min(size - 1, Math.floor(at)))
}

function sampled(values: Float32Array, width: number, height: number, u: number, v: number): number {
  const x = u - 0.5
  const y = v - 0.5
  const left = Math.min(Math.max(Math.floor(x), 0), width - 2)
  const top = Math.min(Math.max(Math.floor(y), 0), height - 2)
  const fx = Math.min(Math.max(x - left, 0), 1)
  const fy = Math.min(Math.max(y - top, 0), 1)
  const at = top * width + left
  return (
    (1 - fy) * ((1 - fx) * values[at]! + fx * values[at + 1]!) +
    fy * ((1 - fx) * values[at + width]! + fx * values[at + width + 1]!)
  )
}

/** The code of a light, looked up: exactly what {@link curve} rounds to. */
function code(linear: number): number {
  if (!(linear > 0)) return 0
  if (linear >= 1) return 255
  const low = LOW_CODES[Math.floor(linear * PLACES)]!
  return linear >= LEAST_LIGHT[low + 1]! ? low + 1 : low
}

/** Narrower than any code's stretch of light. */
const PLACES = 4096
const LOW_CODES = Uint8Array.from({ length: PLACES }, (_, place) => curve(place / PLACES))
/** The least light of each code, to the last bit. */
const LEAST_LIGHT = Float64Array.from({ length: 256 }, (_, wanted) => {
  let [below, there] = [0, 1]
  for (let step = 0; step < 80; step++) {
    const middle = (below + there) / 2
    if (curve(middle) >= wanted) there = middle
    else below = middle
  }
  return there
})

function curve(linear: number): number {
  const held = Math.min(1, Math.max(0, linear))
  return Math.round(255 * (held <= 0.0031308 ? 12.92 * held : 1.055 * held ** (1 / 2.4) - 0.055))
}

interface Thing {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
  readonly day: number
  readonly infrared: number
}

function worldOf(seed: number, kind: SiteKind, perRadian: number, across: number, down: number): World {
  const random = seededRandom(77 + seed)
  const [width, height] = [Math.ceil(2 * across * perRadian), Math.ceil(2 * down * perRadian)]
  const leaves = new Uint8Array(width * height)
  const reflected = {
    day: new Float32Array(width * height).fill(0.35),
    infrared: new Float32Array(width * height).fill(0.3),
  }
  const paint = (thing: Thing): void => {
    for (let y = Math.max(0, thing.top); y < Math.min(height, thing.bottom); y++)
      for (let x = Math.max(0, thing.left); x < Math.min(width, thing.right); x++) {
        reflected.day[y * width + x] = thing.day
        reflected.infrared[y * width + x] = thing.infrared
      }
  }
  const shades = (): { day: number; infrared: number } => ({
    day: 0.04 + 0.7 * random.uniform() ** 1.5,
    infrared: 0.05 + 0.6 * random.uniform() ** 1.3,
  })
  const box = (x: number, y: number, w: number, h: number): Omit<Thing, 'day' | 'infrared'> => ({
    left: Math.round(x),
    top: Math.round(y),
    right: Math.round(x + w),
    bottom: Math.round(y + h),
  })
  const scale = height / 900
  const boxes: Thing[] = []
  const put = (thing: Thing): void => {
    paint(thing)
    boxes.push(thing)
  }
  if (kind !== 'blank') {
    // Ground and sky.
    paint({ ...box(0, 0, width, 0.25 * height), day: 0.85, infrared: 0.06 })
    paint({ ...box(0, 0.7 * height, width, height), day: 0.2, infrared: 0.25 })
    speckle(reflected, width, height, [0, Math.floor(0.7 * height), width, height], 0.35, 3 * scale, random)
    const blocks = kind === 'houses' ? 9 : 4
    for (let i = 0; i < blocks; i++) {
      const [w, h] = [(0.08 + 0.16 * random.uniform()) * width, (0.25 + 0.3 * random.uniform()) * height]
      const [x, y] = [random.uniform() * (width - w), 0.72 * height - h * (0.7 + 0.5 * random.uniform())]
      put({ ...box(x, y, w, h), ...shades() })
      const [rows, columns] = [2 + Math.floor(3 * random.uniform()), 2 + Math.floor(4 * random.uniform())]
      const own = shades()
      for (let r = 0; r < rows; r++)
        for (let c = 0; c < columns; c++)
          paint({
            ...box(
              x + ((c + 0.2 + 0.1 * random.uniform()) * w) / columns,
              y + ((r + 0.2) * h) / rows,
              (0.5 * w) / columns,
              (0.55 * h) / rows,
            ),
            ...own,
          })
    }
    for (let i = 0; i < 60; i++) {
      const [w, h] = [(4 + 40 * random.uniform()) * scale, (4 + 60 * random.uniform()) * scale]
      put({ ...box(random.uniform() * width, (0.3 + 0.6 * random.uniform()) * height, w, h), ...shades() })
    }
  }
  if (kind === 'bricks')
    tiled(0.3, 0.68, 22 * scale, 9 * scale, (x, y, row) => ({
      ...box(x + (row % 2) * 11 * scale, y, 20 * scale, 7.5 * scale),
      day: 0.3 + 0.08 * random.uniform(),
      infrared: 0.4 + 0.08 * random.uniform(),
    })).forEach(paint)
  if (kind === 'fence')
    tiled(0.42, 0.78, 16 * scale, 0.36 * height, (x, y) => ({
      ...box(x, y, 9 * scale, 0.34 * height),
      day: 0.6 + 0.03 * random.uniform(),
      infrared: 0.5 + 0.03 * random.uniform(),
    })).forEach(paint)
  const bushes = kind === 'foliage' ? 9 : kind === 'blank' ? 0 : 2
  for (let i = 0; i < bushes; i++) grow(0.05 + 0.1 * random.uniform())
  speckle(
    reflected,
    width,
    height,
    [0, 0, width, height],
    kind === 'blank' ? 0.01 : 0.06,
    2.5 * scale,
    random,
  )
  return { perRadian, width, height, leaves, lit: lit(reflected, boxes, width, height, random) }

  function tiled(
    from: number,
    to: number,
    stepX: number,
    stepY: number,
    each: (x: number, y: number, row: number) => Thing,
  ): Thing[] {
    const all: Thing[] = []
    const [left, right] = [0.05 * width, 0.85 * width]
    for (let y = from * height, row = 0; y < to * height; y += stepY, row++)
      for (let x = left; x < right; x += stepX) all.push(each(x, y, row))
    return all
  }

  function grow(radius: number): void {
    const [cx, cy, r] = [random.uniform() * width, (0.3 + 0.4 * random.uniform()) * height, radius * width]
    const area: [number, number, number, number] = [cx - r, cy - r, cx + r, cy + r].map(Math.floor) as [
      number,
      number,
      number,
      number,
    ]
    for (let y = Math.max(0, area[1]); y < Math.min(height, area[3]); y++)
      for (let x = Math.max(0, area[0]); x < Math.min(width, area[2]); x++) {
        if (Math.hypot(x - cx, (y - cy) * 1.4) > r * (0.9 + 0.1 * Math.sin(x / 5) * Math.sin(y / 4))) continue
        leaves[y * width + x] = 1
        reflected.day[y * width + x] = 0.08
        reflected.infrared[y * width + x] = 0.45
      }
    speckle(reflected, width, height, area, 0.6, 2 * scale, random, leaves)
  }
}

/** Grain of a size laid over an area, as a share of what is there. */
function speckle(
  reflected: Readonly<Record<'day' | 'infrared', Float32Array>>,
  width: number,
  height: number,
  [left, top, right, bottom]: readonly [number, number, number, number],
  share: number,
  sizePx: number,
  random: Random,
  within: Uint8Array | null = null,
): void {
  const columns = Math.ceil((right - left) / sizePx) + 2
  const rows = Math.ceil((bottom - top) / sizePx) + 2
  const grains = Float32Array.from({ length: columns * rows }, () => random.normal())
  for (let y = Math.max(0, top); y < Math.min(height, bottom); y++)
    for (let x = Math.max(0, left); x < Math.min(width, right); x++) {
      if (within !== null && within[y * width + x] === 0) continue
      const by = 1 + share * sampled(grains, columns, rows, (x - left) / sizePx + 1, (y - top) / sizePx + 1)
      reflected.day[y * width + x]! *= Math.max(0.1, by)
      reflected.infrared[y * width + x]! *= Math.max(0.1, 1 + (by - 1) * 0.7)
    }
}

/** The world in each light: by day under a sun, under infrared from beside the lens, at night under a lamp at one side. */
function lit(
  reflected: Readonly<Record<'day' | 'infrared', Float32Array>>,
  boxes: readonly Thing[],
  width: number,
  height: number,
  random: Random,
): World['lit'] {
  const shadowed = (dx: number, dy: number, left: number): Float32Array => {
    const light = new Float32Array(width * height).fill(1)
    const [x0, y0] = [dx * height * 0.02, dy * height * 0.02]
    for (const thing of boxes)
      for (let y = thing.top; y < thing.bottom; y++)
        for (let x = thing.left; x < thing.right; x++) {
          const [sx, sy] = [Math.round(x + x0), Math.round(y + y0)]
          const isOwn = sx >= thing.left && sx < thing.right && sy >= thing.top && sy < thing.bottom
          if (!isOwn && sx >= 0 && sy >= 0 && sx < width && sy < height) light[sy * width + sx] = left
        }
    return light
  }
  const sun = shadowed(1 + random.uniform(), 0.7, 0.5)
  const lamp = shadowed(-2 - random.uniform(), 1.2, 0.15)
  const out = { day: new Float32Array(width * height), infrared: sun.slice(), lamp: lamp.slice() }
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const i = y * width + x
      const off = Math.hypot(x / width - 0.5, y / height - 0.6)
      out.day[i] = reflected.day[i]! * sun[i]!
      out.infrared[i] = 0.9 * reflected.infrared[i]! * Math.exp(-6 * off * off)
      out.lamp[i] =
        0.8 * reflected.day[i]! * lamp[i]! * Math.exp(-2.5 * Math.hypot(x / width - 0.15, y / height - 0.3))
    }
  return { day: softened(out.day), infrared: softened(out.infrared), lamp: softened(out.lamp) }

  /** Blurred a little, so that no sample of it is finer than a still's pixels: 1 2 1 both ways, twice. */
  function softened(values: Float32Array): Float32Array {
    let from = values
    for (const step of [1, width, 1, width]) {
      const to = from.slice()
      for (let i = step; i < to.length - step; i++)
        to[i] = 0.25 * from[i - step]! + 0.5 * from[i]! + 0.25 * from[i + step]!
      from = to
    }
    return from
  }
}

/** Somebody with a board, at a place of their own. */
function drawWalker(
  linear: Float32Array,
  width: number,
  height: number,
  share: number,
  random: Random,
): void {
  const tall = share * height
  const [x, foot] = [
    (0.15 + 0.7 * random.uniform()) * width,
    Math.min(height, (0.75 + 0.2 * random.uniform()) * height),
  ]
  const fill = (left: number, top: number, w: number, h: number, value: () => number): void => {
    for (let row = Math.max(0, Math.floor(top)); row < Math.min(height, top + h); row++)
      for (let column = Math.max(0, Math.floor(left)); column < Math.min(width, left + w); column++)
        linear[row * width + column] = value()
  }
  const cloth = 0.05 + 0.3 * random.uniform()
  fill(
    x - 0.13 * tall,
    foot - 0.85 * tall,
    0.26 * tall,
    0.85 * tall,
    () => cloth * (0.9 + 0.2 * random.uniform()),
  )
  fill(x - 0.06 * tall, foot - tall, 0.12 * tall, 0.15 * tall, () => 0.3)
  fill(x - 0.18 * tall, foot - 0.7 * tall, 0.36 * tall, 0.24 * tall, () => 0.02)
  fill(x - 0.16 * tall, foot - 0.68 * tall, 0.32 * tall, 0.2 * tall, () => 0.7)
}

/** Pixels of the sensor that are always bright, at places of its own. */
function addHotPixels(data: Uint8Array, seed: number): void {
  const random = seededRandom(5 + seed)
  for (let i = 0; i < 60; i++) data[Math.floor(random.uniform() * data.length)] = 200
}

/** A name that never changes, the same on every camera, and a clock that does: white letters edged in black. */
function drawCaptions(data: Uint8Array, width: number, height: number, seed: number): void {
  const block = Math.max(2, Math.round(height / 300))
  const letter = (which: number, left: number, top: number): void => {
    const random = seededRandom(900 + which)
    const on = Array.from({ length: 35 }, () => random.uniform() < 0.55)
    const each = (grown: number, value: number): void =>
      on.forEach((isOn, i) => {
        if (!isOn) return
        const [x, y] = [left + (i % 5) * block - grown, top + Math.floor(i / 5) * block - grown]
        for (let dy = 0; dy < block + 2 * grown; dy++)
          for (let dx = 0; dx < block + 2 * grown; dx++) data[(y + dy) * width + x + dx] = value
      })
    each(1, 8)
    each(0, 245)
  }
  for (let i = 0; i < 14; i++) letter(i, 20 + i * 6 * block, 20)
  for (let i = 0; i < 16; i++)
    letter(
      i < 12 ? 40 + i : 60 + ((seed * 7 + i * i * seed) % 10),
      width - (17 - i) * 6 * block,
      height - 12 * block,
    )
}

/** Whether the one picture is larger or smaller than the other, beyond its 95 %. */
export function isScaled({ scale, u }: ToldMotion): boolean {
  return Math.abs(scale - 1) > u.scale
}
