import type { Raster } from '../../still/raster.js'
import { keepsRhythm, rasterDifferences, type RasterDifferences } from './differencePhases.js'
import type { Problem } from '../stillMeasurement.js'
import { problem } from '../../sentences.js'
import { measureSays } from '../sentences.js'

/** A smooth interpolation's rhythm: the weaker phase's differences are under this share of the others' (linear, twofold: 1/4). This project's convention. */
const RHYTHM_SHARE = 0.62
/** And above the old Nyquist frequency there is less than this share of the power below it. */
const SCALES = [
  { period: 2, times: 2, emptyShare: 0.1 },
  { period: 3, times: 1.5, emptyShare: 0.2 },
  { period: 4, times: 4 / 3, emptyShare: 0.4 },
  { period: 5, times: 1.25, emptyShare: 0.5 },
  { period: 6, times: 1.2, emptyShare: 0.5 },
] as const

/**
 * Whether a still was enlarged smoothly, twofold or by a half, a third, a quarter or a fifth: its differences keep the rhythm of the interpolation, and the spectrum is empty above
 * the old Nyquist frequency. Both are asked for, because JPEG and noise reduction empty a spectrum too. Null where it was not, or cannot be told.
 */
export function enlarged(
  raster: Raster,
  differences: RasterDifferences = rasterDifferences(raster),
): Problem | null {
  for (const way of ['alongRows', 'alongColumns'] as const) {
    const { first, second } = differences[way]
    for (const { period, times, emptyShare } of SCALES) {
      if (!keepsRhythm(first, period, RHYTHM_SHARE) && !keepsRhythm(second, period, RHYTHM_SHARE)) continue
      if (finestShare(raster, way === 'alongRows', 0.5 / times) > emptyShare) continue
      return problem(measureSays.enlarged(times))
    }
  }
  return null
}

const BLOCK = 32
const ENOUGH_BLOCKS = 300

/**
 * Mean spectral power between `oldNyquist` (cycles/px) and 1/2 against that in an equal stretch below it, along rows (`across`) or columns: Hann-windowed
 * blocks of 32 px with their slope taken out; the quieter half of the blocks, so that edges do not fill the spectrum. 1 for white noise, near 0 after smooth up-scaling.
 */
function finestShare(raster: Raster, across: boolean, oldNyquist: number): number {
  const { width, height, data } = raster
  const [lines, length] = across ? [height, width] : [width, height]
  const [lineStep, step] = across ? [width, 1] : [1, width]
  const perLine = Math.floor(length / BLOCK)
  const every = Math.max(1, Math.ceil((lines * perLine) / ENOUGH_BLOCKS))
  const from = Math.round((oldNyquist + 0.05) * BLOCK)
  const to = Math.round((oldNyquist - 0.05) * BLOCK)
  const wide = BLOCK / 2 - from + 1
  const blocks: { below: number; above: number }[] = []
  for (let block = 0; block < lines * perLine; block += every) {
    const start = Math.floor(block / perLine) * lineStep + (block % perLine) * BLOCK * step
    const power = blockPower(data, start, step)
    let [below, above] = [0, 0]
    for (let k = 0; k < wide; k += 1) {
      above += power[from + k]!
      below += power[Math.max(1, to - k)]!
    }
    blocks.push({ below, above })
  }
  const quiet = blocks.sort((a, b) => a.below - b.below).slice(0, Math.ceil(blocks.length / 2))
  const [below, above] = quiet.reduce(([b, a], block) => [b + block.below, a + block.above], [0, 0])
  return below > 0 ? above / below : 1
}

/** The cosines of a turn in steps of a block's 32nd part; the sines stand three quarters of a turn on. */
const COSINES = Float64Array.from({ length: BLOCK }, (_, i) => Math.cos((2 * Math.PI * i) / BLOCK))
const HANN = Float64Array.from({ length: BLOCK }, (_, i) => 1 - Math.cos((2 * Math.PI * (i + 0.5)) / BLOCK))

/** Power of one block at 0 to BLOCK / 2 turns. */
function blockPower(data: Float32Array, start: number, step: number): Float64Array {
  const first = data[start]!
  const slope = (data[start + (BLOCK - 1) * step]! - first) / (BLOCK - 1)
  const power = new Float64Array(BLOCK / 2 + 1)
  for (let k = 0; k < power.length; k += 1) {
    let re = 0
    let im = 0
    for (let i = 0; i < BLOCK; i += 1) {
      const value = (data[start + i * step]! - first - slope * i) * HANN[i]!
      re += value * COSINES[(k * i) % BLOCK]!
      im += value * COSINES[(k * i + (3 * BLOCK) / 4) % BLOCK]!
    }
    power[k] = re * re + im * im
  }
  return power
}
