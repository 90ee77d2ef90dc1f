import { describe, expect, it } from 'vitest'
import { seededRandom } from '../../../src/math/random.js'
import { hasTornRows } from '../../../src/measure/export/tornRows.js'

const [width, height] = [160, 120]
const picture = (codeAt: (x: number, y: number) => number) => ({
  width,
  height,
  data: Uint8Array.from({ length: width * height }, (_, at) => codeAt(at % width, Math.floor(at / width))),
})
const bars = (x: number): number => (Math.floor(x / 12) % 2 === 0 ? 40 : 200)

describe('rows torn between two fields', () => {
  const random = seededRandom(5)
  const noise = (): number => 17 * random.normal()

  it('are seen where upright edges moved, in noise too', () => {
    expect(hasTornRows(picture((x, y) => bars(x + 3 * (y % 2))))).toBe(true)
    expect(hasTornRows(picture((x, y) => 20 + 0.8 * bars(x + 4 * (y % 2)) + noise()))).toBe(true)
  })

  it.each([
    ['upright edges at rest', (x: number) => bars(x)],
    ['level edges', (_: number, y: number) => bars(y)],
    ['slanted edges', (x: number, y: number) => bars(x + y)],
    ['noise', () => 120 + noise()],
  ])('are not seen in %s', (_, codeAt) => {
    expect(hasTornRows(picture(codeAt))).toBe(false)
  })
})
