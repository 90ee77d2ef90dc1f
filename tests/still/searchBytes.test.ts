import { expect, it } from 'vitest'
import { seededRandom } from '../../src/math/random.js'
import { halfSearchBytes, halveBytes, searchBytes } from '../../src/still/searchBytes.js'

it('gives a colour picture at half size as halving the whole gives it, odd sides or not', () => {
  const random = seededRandom(1)
  for (const [width, height] of [
    [8, 6],
    [9, 7],
    [2, 2],
  ] as const) {
    const samples = Uint8Array.from({ length: 3 * width * height }, () => Math.floor(256 * random.uniform()))
    const half = halfSearchBytes(samples, width, 3, 255)
    expect(half).toEqual(halveBytes(searchBytes(samples, width, 3, 255)))
    expect([half.width, half.height]).toEqual([width >> 1, height >> 1])
  }
})

it('takes grey samples as they are, and 16 bits and opacity as luma', () => {
  expect([...searchBytes(Uint8Array.of(1, 2, 3, 4), 2, 1, 255).data]).toEqual([1, 2, 3, 4])
  expect([...searchBytes(Uint16Array.of(0, 257 * 100, 65535, 257 * 7), 2, 1, 65535).data]).toEqual([
    0, 100, 255, 7,
  ])
  expect([...searchBytes(Uint8Array.of(80, 80, 80, 255, 0, 0, 0, 0), 2, 4, 255).data]).toEqual([80, 255])
})
