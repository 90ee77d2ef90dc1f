import { normalIntegral } from '../../src/math/normalIntegral.js'
import { seededRandom } from '../../src/math/random.js'
import { srgbEncoder } from '../../src/simulate/camera/encodeSrgb.js'
import { drawSway, FINE, FRAME_PX, once, type Walker } from './walker.js'

/** Frames of a clip: two seconds, in the first of which the walker comes to a stand. */
export const FRAMES = 51
const STANDS_FROM = 25
const COMES_FROM_M = 0.3
/** Frames a second, and when a walk begins that goes on past the end, in frames before that. */
const RATE = 25
const WALK_FRAMES = 12

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
  { moving, woven }: { readonly moving: Moving | null; readonly woven: boolean },
): { readonly frames: readonly (() => Float32Array)[]; readonly shifts: readonly Shift[] } {
  const sway = drawSway(walker)
  const place = (frame: number): Shift => {
    const [x, y] = sway(frame / RATE)
    const left = Math.max(0, 1 - frame / STANDS_FROM)
    const came = moving === null ? -COMES_FROM_M * left ** 2 : 0
    const walked =
      ((moving?.metresPerS ?? 0) * (Math.max(frame, FRAMES - 1 - WALK_FRAMES) - (FRAMES - 1.5))) / RATE
    return [x + (came + walked) * walker.densityPxPerM, y]
  }
  const smearPx = moving === null ? 0 : moving.metresPerS * moving.exposureS * walker.densityPxPerM
  const shifts = Array.from({ length: FRAMES }, (_, frame) => place(frame))
  const draw = (shift: Shift, frame: number): Float32Array => {
    const one = seen(walker, shift, smearPx)
    if (!woven) return one
    const later = seen(walker, place(frame + 0.5), smearPx)
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

/** Linear light of a frame: what is held, shifted, smeared along rows, through optics and pixels, before what lies behind. */
function seen({ fine, behind, blurPx }: Walker, [dx, dy]: Shift, smearPx: number): Float32Array {
  const { width, height } = FRAME_PX
  const [fineWidth, fineHeight] = [FINE * width, FINE * height]
  const across = kernel(blurPx, dx, smearPx)
  const down = kernel(blurPx, dy, 0)
  const layer = fine()
  // Only where something is held.
  const { left, top, right, bottom } = layer.bounds
  const firstX = Math.max(0, Math.floor(left / FINE + dx - across.reach))
  const endX = Math.min(width, Math.ceil(right / FINE + dx + across.reach))
  const firstY = Math.max(0, Math.floor(top / FINE + dy - down.reach))
  const endY = Math.min(height, Math.ceil(bottom / FINE + dy + down.reach))
  const [light, cover] = [layer.light, layer.cover].map((from) => {
    const rows = new Float32Array(width * fineHeight)
    for (let row = Math.max(0, top); row < bottom; row += 1)
      for (let x = firstX; x < endX; x += 1) {
        const first = FINE * x + across.first
        let sum = 0
        for (let k = 0; k < across.weights.length; k += 1) {
          const at = first + k
          if (at >= 0 && at < fineWidth) sum += across.weights[k]! * from[row * fineWidth + at]!
        }
        rows[row * width + x] = sum
      }
    const out = new Float32Array(width * height)
    for (let y = firstY; y < endY; y += 1)
      for (let k = 0; k < down.weights.length; k += 1) {
        const at = FINE * y + down.first + k
        if (at < top || at >= bottom) continue
        for (let x = firstX; x < endX; x += 1) out[y * width + x]! += down.weights[k]! * rows[at * width + x]!
      }
    return out
  }) as [Float32Array, Float32Array]
  return light.map((value, at) => value + (1 - cover[at]!) * behind.data[at]!)
}

const SMEAR_STEPS = 24

/** Weights of the fine samples for a pixel, the first being sample `FINE` x pixel + `first`; fine samples are means over their own box, which the Gaussian leaves out. */
function kernel(blurPx: number, shiftPx: number, smearPx: number) {
  const sigma = Math.sqrt(blurPx ** 2 - 1 / (12 * FINE ** 2))
  const reach = 4.5 * sigma + 0.5 + smearPx / 2
  const first = Math.ceil(FINE * (0.5 - shiftPx - reach) - 0.5)
  const count = Math.floor(FINE * (0.5 - shiftPx + reach) - 0.5) - first + 1
  const smears =
    smearPx === 0
      ? [0]
      : Array.from({ length: SMEAR_STEPS }, (_, k) => smearPx * ((k + 0.5) / SMEAR_STEPS - 0.5))
  const weights = Float64Array.from({ length: count }, (_, k) => {
    const offset = (first + k + 0.5) / FINE + shiftPx - 0.5
    return smears.reduce(
      (sum, by) =>
        sum + normalIntegral((offset + by + 0.5) / sigma) - normalIntegral((offset + by - 0.5) / sigma),
      0,
    )
  })
  const sum = weights.reduce((a, b) => a + b, 0)
  return { first, reach: reach + 1, weights: weights.map((weight) => weight / sum) }
}
