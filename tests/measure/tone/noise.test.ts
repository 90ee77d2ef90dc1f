import { describe, expect, it } from 'vitest'
import { seededRandom } from '../../../src/math/random.js'
import { quietestNoise, ROUNDING_NOISE_CODE, secondDifferenceNoise } from '../../../src/measure/tone/noise.js'
import { expectNear } from '../../nearly.js'

function noisy(size: number, noise: number, ground: (x: number, y: number) => number): Float32Array {
  const random = seededRandom(9)
  return Float32Array.from(
    { length: size * size },
    (_, at) => ground(at % size, Math.floor(at / size)) + noise * random.normal(),
  )
}

const ALL = new Uint8Array(200 * 200).fill(1)

describe('noise by second differences', () => {
  it('is the standard deviation of white noise, on even ground and on a slope of light', () => {
    const slope = (x: number, y: number): number => 40 + 0.5 * x + 0.2 * y
    expectNear(
      secondDifferenceNoise(noisy(200, 3, slope), ALL, 200, 200)!,
      3,
      { rel: 0.02 },
      '80000 differences',
    )
    expectNear(quietestNoise(noisy(200, 3, slope), ALL, 200, 200)!, 3, { rel: 0.04 }, 'a quartile')
  })

  it('sees no stroke outside its mask, and its quietest quarter few inside', () => {
    const strokes = (x: number): number => (x % 20 < 6 ? 40 : 160)
    const mask = Uint8Array.from({ length: 200 * 200 }, (_, at) => {
      const x = (at % 200) % 20
      return x >= 8 && x < 18 ? 1 : 0
    })
    expectNear(
      secondDifferenceNoise(noisy(200, 3, strokes), mask, 200, 200)!,
      3,
      { rel: 0.03 },
      'clear of strokes',
    )
    expectNear(quietestNoise(noisy(200, 3, strokes), ALL, 200, 200)!, 3, { rel: 0.25 }, 'an upper bound')
    expect(secondDifferenceNoise(noisy(200, 3, strokes), ALL, 200, 200)!).toBeGreaterThan(10)
  })

  it('is never under the rounding of a code value', () => {
    expectNear(
      secondDifferenceNoise(
        noisy(200, 0, () => 90),
        ALL,
        200,
        200,
      )!,
      ROUNDING_NOISE_CODE,
      { rel: 1e-12 },
      'floor',
    )
  })

  it('is null where nothing lies side by side', () => {
    expect(
      secondDifferenceNoise(
        noisy(200, 3, () => 90),
        new Uint8Array(200 * 200),
        200,
        200,
      ),
    ).toBeNull()
    expect(
      quietestNoise(
        noisy(200, 3, () => 90),
        new Uint8Array(200 * 200),
        200,
        200,
      ),
    ).toBeNull()
  })
})
