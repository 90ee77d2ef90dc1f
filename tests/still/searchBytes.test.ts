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

it('halves by means of four pixels, rounded, whatever the sides', () => {
  const random = seededRandom(2)
  for (const [width, height] of [
    [8, 6],
    [10, 4],
    [13, 9],
  ] as const) {
    const data = Uint8Array.from({ length: width * height }, () => Math.floor(256 * random.uniform()))
    const half = halveBytes({ width, height, data })
    const means = Array.from({ length: (width >> 1) * (height >> 1) }, (_, at) => {
      const from = 2 * (at % (width >> 1)) + 2 * Math.floor(at / (width >> 1)) * width
      return Math.floor(
        (data[from]! + data[from + 1]! + data[from + width]! + data[from + width + 1]! + 2) / 4,
      )
    })
    expect([...half.data]).toEqual(means)
  }
})

it('takes the green of colours, of any number of pixels', () => {
  for (const pixels of [1, 7, 4096, 9001]) {
    const samples = Uint8Array.from({ length: 3 * pixels }, (_, at) => (at * 7) % 251)
    const greens = Array.from({ length: pixels }, (_, pixel) => samples[3 * pixel + 1]!)
    expect([...searchBytes(samples, pixels, 3, 255).data]).toEqual(greens)
  }
})
