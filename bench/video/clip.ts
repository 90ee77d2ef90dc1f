import { normalIntegral } from '../../src/math/normalIntegral.js'
import { seededRandom } from '../../src/math/random.js'
import { srgbEncoder } from '../../src/simulate/camera/encodeSrgb.js'
import { drawSway, FINE, FRAME_PX, once, type FineLayer, type Walker } from './walker.js'

/** Frames of a clip: two seconds, in the first of which the walker comes to a stand. */
export const FRAMES = 51
const STANDS_FROM = 25
const COMES_FROM_M = 0.3
/** Frames a second, and when a walk begins that goes on past the end, in frames before that. */
const RATE = 25
const WALK_FRAMES = 12
/** Seconds between the moments of one stand of which a clip is drawn. */
const MOMENT_S = 11

/** Electrons at white, and of the reading, one standard deviation; light of a paper of 0.85 lies at 0.72 of white. */
export const LIGHTS = { day: 8000, dusk: 800, night: 160 } as const
const READ_ELECTRONS = 3
const GAIN = 0.85

/** How a walker moves who does not stand, and for how long the shutter is open. */
export interface Moving {
  readonly metresPerS: number
  readonly exposureS: number
}

/** Where what is held lies in a frame, px from its rest. */
export type Shift = readonly [number, number]

/** The frames of a clip as light, without noise, and where the walker was in each. `woven` frames join two fields, taken 1/50 s apart, odd rows later. */
export function drawClip(
  walker: Walker,
  {
    moving,
    woven,
    moment,
  }: { readonly moving: Moving | null; readonly woven: boolean; readonly moment: number },
): { readonly frames: readonly (() => Float32Array)[]; readonly shifts: readonly Shift[] } {
  const sway = drawSway(walker)
  const place = (frame: number): Shift => {
    const [x, y] = sway(frame / RATE + MOMENT_S * moment)
    const left = Math.max(0, 1 - frame / STANDS_FROM)
    const came = moving === null ? -COMES_FROM_M * left ** 2 : 0
    const walked =
      ((moving?.metresPerS ?? 0) * (Math.max(frame, FRAMES - 1 - WALK_FRAMES) - (FRAMES - 1.5))) / RATE
    return [x + (came + walked) * walker.densityPxPerM, y]
  }
  const smearPx = moving === null ? 0 : moving.metresPerS * moving.exposureS * walker.densityPxPerM
  const layer = once(() => blurredLayer(walker.fine(), walker.blurPx, smearPx))
  const shifts = Array.from({ length: FRAMES }, (_, frame) => place(frame))
  const draw = (shift: Shift, frame: number): Float32Array => {
    const one = seen(layer(), walker.behind.data, shift)
    if (!woven) return one
    const later = seen(layer(), walker.behind.data, place(frame + 0.5))
    for (let y = 1; y < FRAME_PX.height; y += 2)
      one.set(later.subarray(y * FRAME_PX.width, (y + 1) * FRAME_PX.width), y * FRAME_PX.width)
    return one
  }
  return { frames: shifts.map((shift, frame) => once(() => draw(shift, frame))), shifts }
}

/** What a camera's sensor makes of a frame's light: electrons with their own noise and the reading's, encoded by sRGB, 0 to 255. */
export function exposed(light: Float32Array, electronsAtWhite: number, seed: number): Uint8Array {
  const random = seededRandom(seed)
  const encode = srgbEncoder()
  return Uint8Array.from(light, (value) => {
    const electrons = Math.max(0, value) * GAIN * electronsAtWhite
    const read = electrons + Math.sqrt(electrons + READ_ELECTRONS ** 2) * random.normal()
    return Math.min(255, Math.round(encode(Math.max(0, read) / electronsAtWhite)))
  })
}

/** Linear light of a frame: what is held, as the optics and pixels see it, shifted, before what lies behind. */
function seen(layer: BlurredLayer, behind: Float32Array, [dx, dy]: Shift): Float32Array {
  const { width, height } = FRAME_PX
  const out = behind.slice()
  const { bounds } = layer
  const firstX = Math.max(0, Math.floor(bounds.left / FINE + dx))
  const endX = Math.min(width, Math.ceil(bounds.right / FINE + dx))
  const firstY = Math.max(0, Math.floor(bounds.top / FINE + dy))
  const endY = Math.min(height, Math.ceil(bounds.bottom / FINE + dy))
  const [alongX, alongY] = [cubicWeights(dx), cubicWeights(dy)]
  for (let y = firstY; y < endY; y += 1)
    for (let x = firstX; x < endX; x += 1) {
      let [light, cover] = [0, 0]
      for (let j = 0; j < 4; j += 1) {
        const row = Math.min(layer.height - 1, Math.max(0, FINE * y + alongY.first + j)) * layer.width
        for (let i = 0; i < 4; i += 1) {
          const at = row + Math.min(layer.width - 1, Math.max(0, FINE * x + alongX.first + i))
          const weight = alongX.weights[i]! * alongY.weights[j]!
          light += weight * layer.light[at]!
          cover += weight * layer.cover[at]!
        }
      }
      out[y * width + x] = light + (1 - cover) * out[y * width + x]!
    }
  return out
}

/** For the middle of a pixel of a picture shifted by so many px: the four fine samples about it, from sample `FINE` x pixel + `first` on, and their weights (Keys, a = -1/2). */
function cubicWeights(shiftPx: number) {
  const place = FINE * (0.5 - shiftPx) - 0.5
  const [first, t] = [Math.floor(place) - 1, place - Math.floor(place)]
  const weights = [
    -0.5 * t ** 3 + t ** 2 - 0.5 * t,
    1.5 * t ** 3 - 2.5 * t ** 2 + 1,
    -1.5 * t ** 3 + 2 * t ** 2 + 0.5 * t,
    0.5 * t ** 3 - 0.5 * t ** 2,
  ]
  return { first, weights }
}

interface BlurredLayer extends FineLayer {
  readonly width: number
  readonly height: number
}

/** The fine layer as optics and pixels see it about each of its samples, smeared along rows. */
function blurredLayer(fine: FineLayer, blurPx: number, smearPx: number): BlurredLayer {
  const [width, height] = [FINE * FRAME_PX.width, FINE * FRAME_PX.height]
  const [across, down] = [kernel(blurPx, smearPx), kernel(blurPx, 0)]
  const [reachX, reachY] = [(across.length - 1) / 2, (down.length - 1) / 2]
  const { left, top, right, bottom } = fine.bounds
  const bounds = {
    left: Math.max(0, left - reachX),
    top: Math.max(0, top - reachY),
    right: Math.min(width, right + reachX),
    bottom: Math.min(height, bottom + reachY),
  }
  const [light, cover] = [fine.light, fine.cover].map((from) => {
    const rows = new Float32Array(width * height)
    for (let y = top; y < bottom; y += 1)
      for (let x = bounds.left; x < bounds.right; x += 1) {
        let sum = 0
        const [k0, k1] = [Math.max(0, reachX - x), Math.min(across.length, width - x + reachX)]
        for (let k = k0; k < k1; k += 1) sum += across[k]! * from[y * width + x + k - reachX]!
        rows[y * width + x] = sum
      }
    const out = new Float32Array(width * height)
    for (let y = bounds.top; y < bounds.bottom; y += 1)
      for (let k = 0; k < down.length; k += 1) {
        const row = y + k - reachY
        if (row < top || row >= bottom) continue
        const weight = down[k]!
        for (let x = bounds.left; x < bounds.right; x += 1)
          out[y * width + x]! += weight * rows[row * width + x]!
      }
    return out
  }) as [Float32Array, Float32Array]
  return { light, cover, bounds, width, height }
}

const SMEAR_STEPS = 24

/** Weights of the fine samples about one; they are means over their own box, which the Gaussian leaves out. */
function kernel(blurPx: number, smearPx: number): Float64Array {
  const sigma = Math.sqrt(blurPx ** 2 - 1 / (12 * FINE ** 2))
  const reach = Math.ceil(FINE * (4.5 * sigma + 0.5 + smearPx / 2))
  const smears = Array.from({ length: SMEAR_STEPS }, (_, k) => smearPx * ((k + 0.5) / SMEAR_STEPS - 0.5))
  const weights = Float64Array.from({ length: 2 * reach + 1 }, (_, k) => {
    const offset = (k - reach) / FINE
    const over = (at: number): number =>
      normalIntegral((at + 0.5) / sigma) - normalIntegral((at - 0.5) / sigma)
    return smears.reduce((sum, by) => sum + over(offset + by), 0)
  })
  const sum = weights.reduce((a, b) => a + b, 0)
  return weights.map((weight) => weight / sum)
}
