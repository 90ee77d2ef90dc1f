import type { Raster } from '../still/raster.js'

const BLOCK = 32
const MOST_BLOCKS = 1500

/**
 * Mean spectral power between `oldNyquist` (cycles/px) and 1/2 against that in an equal stretch below it, along rows (`across`) or columns: Hann-windowed
 * blocks of 32 px with their slope taken out; the quieter half of the blocks, so that edges do not fill the spectrum. 1 for white noise, near 0 after smooth up-scaling.
 */
export function finestShare(raster: Raster, across: boolean, oldNyquist: number): number {
  const { width, height, data } = raster
  const [lines, length] = across ? [height, width] : [width, height]
  const [lineStep, step] = across ? [width, 1] : [1, width]
  const starts: number[] = []
  for (let line = 0; line < lines; line += 1) {
    for (let from = 0; from + BLOCK <= length; from += BLOCK) starts.push(line * lineStep + from * step)
  }
  const every = Math.max(1, Math.ceil(starts.length / MOST_BLOCKS))
  const taken = starts.filter((_, i) => i % every === 0).map((start) => bands(data, start, step, oldNyquist))
  const quiet = taken.sort((a, b) => a.below - b.below).slice(0, Math.ceil(taken.length / 2))
  const [below, above] = quiet.reduce(([b, a], block) => [b + block.below, a + block.above], [0, 0])
  return below > 0 ? above / below : 1
}

/** Power of one block above `oldNyquist` + 0.05 and, in as wide a stretch, below `oldNyquist` - 0.05. */
function bands(
  data: Float32Array,
  start: number,
  step: number,
  oldNyquist: number,
): { below: number; above: number } {
  const first = data[start]!
  const slope = (data[start + (BLOCK - 1) * step]! - first) / (BLOCK - 1)
  const from = Math.round((oldNyquist + 0.05) * BLOCK)
  const wide = BLOCK / 2 - from + 1
  const to = Math.round((oldNyquist - 0.05) * BLOCK)
  const power = (k: number): number => {
    let [re, im] = [0, 0]
    for (let i = 0; i < BLOCK; i += 1) {
      const value =
        (data[start + i * step]! - first - slope * i) * (1 - Math.cos((2 * Math.PI * (i + 0.5)) / BLOCK))
      const angle = (2 * Math.PI * k * i) / BLOCK
      re += value * Math.cos(angle)
      im += value * Math.sin(angle)
    }
    return re * re + im * im
  }
  let [below, above] = [0, 0]
  for (let k = 0; k < wide; k += 1) {
    above += power(from + k)
    below += power(Math.max(1, to - k))
  }
  return { below, above }
}
