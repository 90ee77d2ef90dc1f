import { describe, expect, it } from 'vitest'
import { seededRandom } from '../../../src/math/random.js'
import { boxSums } from '../../../src/measure/tone/boxSums.js'
import { groundNoise } from '../../../src/measure/tone/groundNoise.js'
import { roseK, type RoseGround } from '../../../src/measure/tone/roseK.js'
import { expectNear } from '../../nearly.js'

/** Even ground under white noise, or under noise that neighbours share (means over `shared` x `shared` pixels). */
function evenGround(size: number, noise: number, contrast: number, shared = 1, seed = 1): RoseGround {
  const random = seededRandom(seed)
  const wide = size + shared
  const white = Float32Array.from({ length: wide * wide }, () => noise * random.normal())
  const sums = boxSums(white, wide, wide)
  const data = Float32Array.from({ length: size * size }, (_, at) => {
    const [x, y] = [at % size, Math.floor(at / size)]
    const stride = wide + 1
    const { table } = sums
    const box =
      table[(y + shared) * stride + x + shared]! -
      table[(y + shared) * stride + x]! -
      table[y * stride + x + shared]! +
      table[y * stride + x]!
    return 120 + 0.05 * x + box / (shared * shared)
  })
  const all = new Uint8Array(size * size).fill(1)
  const noiseSeen = groundNoise(data, all, all, size, size)!
  return {
    contrastCode: contrast,
    contrastU: 0,
    blurPx: null,
    areLevelsClear: true,
    noise: noiseSeen,
    isNoiseBound: false,
  }
}

describe("Rose's k", () => {
  it.each([1, 2, 4, 5.5, 8])(
    'grows with the side of the element under white noise, side %d px',
    (elementPx) => {
      const k = roseK(evenGround(120, 6, 20), elementPx)!
      expectNear(k.k, (20 / 6) * elementPx, { rel: 0.12 }, 'up to 225 squares')
      expect(Math.abs(k.k - (20 / 6) * elementPx)).toBeLessThan(2 * k.U)
    },
  )

  it('falls with the share of a pixel an element fills', () => {
    const whole = roseK(evenGround(100, 6, 20), 1)!
    expectNear(roseK(evenGround(100, 6, 20), 0.5)!.k, whole.k / 4, { rel: 1e-9 }, 'a quarter of the area')
  })

  it('sees the noise that neighbours share, which a pixel’s noise over the root of their number would miss', () => {
    const k = roseK(evenGround(160, 12, 20, 3), 6)!
    // Means over 3 x 3 pixels, averaged again over 6 x 6: the variance is (1/36) sum of triangle weights, worked out in one dimension and squared.
    const weights = Array.from({ length: 8 }, (_, i) => Math.min(i + 1, 3, 8 - i) / 18)
    const oneWay = weights.reduce((sum, weight) => sum + weight * weight, 0)
    expectNear(k.k, 20 / (12 * oneWay), { rel: 0.12 }, 'up to 676 squares')
    const naive = (20 / (12 / 3)) * 6
    expect(k.k).toBeLessThan(0.8 * naive)
  })

  it('is null on ground smaller than 8 squares of a quarter of its side', () => {
    expect(roseK(evenGround(2, 6, 20), 4)).toBeNull()
  })

  it('has an interval that covers the truth', () => {
    let covered = 0
    for (let seed = 0; seed < 200; seed += 1) {
      const k = roseK(evenGround(40, 6, 20, 1, seed), 4)!
      if (Math.abs(k.k - (20 / 6) * 4) <= k.U) covered += 1
    }
    console.log(`Rose's k covered in ${covered} of 200`)
    expect(covered).toBeGreaterThanOrEqual(180)
  })
})
