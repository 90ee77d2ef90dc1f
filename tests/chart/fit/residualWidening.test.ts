import { describe, expect, it } from 'vitest'
import { blockScatter, residualWidening } from '../../../src/chart/fit/residualWidening.js'
import { choleskyInverse, choleskySolve } from '../../../src/math/cholesky.js'
import { seededRandom } from '../../../src/math/random.js'
import { expectNear } from '../../nearly.js'

const SIDE = 40

/** A smooth bump and a constant as the two slopes of a fit over a square of pixels, with residuals of that kernel of noise, freed of the fit. */
function widening(seed: number, kernel: readonly number[]): number {
  const random = seededRandom(seed)
  const count = SIDE * SIDE
  const x = Float64Array.from({ length: count }, (_, at) => (at % SIDE) + 0.5)
  const y = Float64Array.from({ length: count }, (_, at) => Math.floor(at / SIDE) + 0.5)
  const slopes = new Float64Array(2 * count)
  for (let at = 0; at < count; at += 1) {
    slopes[2 * at] = Math.exp(-((x[at]! - 20) ** 2 + (y[at]! - 20) ** 2) / 2 / 6 ** 2)
    slopes[2 * at + 1] = 1
  }
  const white = Float64Array.from({ length: count }, () => random.normal())
  const noise = white.map((_, at) => {
    const [i, j] = [at % SIDE, Math.floor(at / SIDE)]
    return kernel.reduce((sum, weight, k) => {
      const across = (i + k) % SIDE
      return (
        sum +
        kernel.reduce((part, other, l) => part + weight * other * white[((j + l) % SIDE) * SIDE + across]!, 0)
      )
    }, 0)
  })
  const [matrix, right] = [new Float64Array(4), new Float64Array(2)]
  for (let at = 0; at < count; at += 1)
    for (let i = 0; i < 2; i += 1) {
      right[i]! += slopes[2 * at + i]! * noise[at]!
      for (let j = 0; j < 2; j += 1) matrix[2 * i + j]! += slopes[2 * at + i]! * slopes[2 * at + j]!
    }
  const inverse = choleskyInverse(matrix, 2)!
  const found = [0, 1].map((i) => inverse[2 * i]! * right[0]! + inverse[2 * i + 1]! * right[1]!)
  const residuals = noise.map(
    (value, at) => value - found[0]! * slopes[2 * at]! - found[1]! * slopes[2 * at + 1]!,
  )
  const variance = residuals.reduce((sum, value) => sum + value * value, 0) / (count - 2)
  const weights = new Float64Array(count).fill(1)
  return residualWidening({ x, y, weights, residuals, variance, size: 2, slopes, inverse }, [
    Float64Array.of(1, 0),
  ])[0]!
}

const mean = (kernel: readonly number[]): number => {
  const values = Array.from({ length: 12 }, (_, seed) => widening(seed + 1, kernel))
  return values.reduce((sum, value) => sum + value, 0) / values.length
}

describe('how residuals that hang together widen a result', () => {
  it('widens hardly at all where noise is white', () => {
    const ratio = mean([1])
    console.log(`white noise: widened by ${ratio.toFixed(2)}`)
    expect(ratio).toBeLessThan(1.2)
  })

  it('comes near the sum of the correlations where noise is smooth and the result smoother', () => {
    // Means over 2 x 2 pixels: correlations 1/2 at a pixel, 1/4 aslant, which over a slow slope add up to 4.
    const ratio = mean([0.5, 0.5])
    console.log(`noise of 2 x 2 means: widened by ${ratio.toFixed(2)}`)
    expectNear(ratio, 4, { rel: 0.25 }, 'the taper takes some of it')
  })
})

describe('how a result scatters from block to block', () => {
  const size = 64
  const count = size * size
  const x = Float64Array.from({ length: count }, (_, at) => (at % size) + 0.5)
  const y = Float64Array.from({ length: count }, (_, at) => Math.floor(at / size) + 0.5)
  const slopes = Float64Array.from({ length: 2 * count }, (_, k) =>
    k % 2 === 0 ? x[k >> 1]! / size - 0.5 : 1,
  )
  const blockOf = (at: number): number => 4 * Math.floor(y[at]! / 16) + Math.floor(x[at]! / 16)
  /** Least squares over the pixels that count. */
  const fitted = (codes: Float64Array, counts: (at: number) => boolean) => {
    const [matrix, right, out] = [new Float64Array(4), new Float64Array(2), new Float64Array(2)]
    for (let at = 0; at < count; at += 1)
      for (let i = 0; counts(at) && i < 2; i += 1) {
        right[i]! += slopes[2 * at + i]! * codes[at]!
        for (let j = 0; j < 2; j += 1) matrix[2 * i + j]! += slopes[2 * at + i]! * slopes[2 * at + j]!
      }
    if (!choleskySolve(matrix.slice(), right, out)) throw new Error('singular')
    return { matrix, slope: out[0]!, at: (k: number) => out[0]! * slopes[2 * k]! + out[1]! }
  }
  const told = (codes: Float64Array) => {
    const whole = fitted(codes, () => true)
    const residuals = codes.map((code, at) => code - whole.at(at))
    const weights = new Float64Array(count).fill(1)
    const fit = { x, y, weights, residuals, size: 2, slopes }
    return { whole, variance: blockScatter(fit, whole.matrix, [Float64Array.of(1, 0)])![0]! }
  }
  const blockNoise = (seed: number): Float64Array => {
    const random = seededRandom(seed)
    const ofBlock = Array.from({ length: 16 }, () => random.normal())
    return Float64Array.from({ length: count }, (_, at) => ofBlock[blockOf(at)]! + random.normal())
  }

  it('is what fits without one block after another give', () => {
    const codes = blockNoise(3)
    const { whole, variance } = told(codes)
    let squares = 0
    for (let block = 0; block < 16; block += 1)
      squares += (fitted(codes, (at) => blockOf(at) !== block).slope - whole.slope) ** 2
    expectNear(variance, (squares * 15) / 16, { rel: 1e-9 })
  })

  it('holds the scatter of a result where noise is that of whole blocks, which neighbours alone do not tell', () => {
    const draws = Array.from({ length: 200 }, (_, seed) => told(blockNoise(seed + 1)))
    const mean = draws.reduce((sum, { variance }) => sum + variance, 0) / draws.length
    const true2 = draws.reduce((sum, { whole }) => sum + whole.slope ** 2, 0) / draws.length
    console.log(`noise of blocks: the result's variance ${true2.toFixed(4)}, told ${mean.toFixed(4)}`)
    expect(mean / true2).toBeGreaterThan(0.85)
    expect(mean / true2).toBeLessThan(1.6)
  })
})
