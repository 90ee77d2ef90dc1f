import { describe, expect, it } from 'vitest'
import { seededRandom } from '../../../src/math/random.js'
import type { RoseK } from '../../../src/measure/stillMeasurement.js'
import { measureTone } from '../../../src/measure/tone/tone.js'
import { BOARD } from '../boardReference.js'

const [WIDTH, HEIGHT] = [200, 160]
const CORNERS = [
  [50, 40],
  [150, 40],
  [150, 120],
  [50, 120],
] as const

/** A board in noise, its pixels changed by `changed`. */
function boardTone(
  { board, surround, noise }: { board: number; surround: number; noise: number },
  changed: (code: number, x: number, y: number) => number,
) {
  const random = seededRandom(3)
  const data = Float32Array.from({ length: WIDTH * HEIGHT }, (_, at) => {
    const [x, y] = [at % WIDTH, Math.floor(at / WIDTH)]
    const isBoard = x >= 50 && x < 150 && y >= 40 && y < 120
    const code = Math.round((isBoard ? board : surround) + noise * random.normal())
    return Math.max(0, Math.min(255, changed(code, x, y)))
  })
  const raster = { left: 0, top: 0, width: WIDTH, height: HEIGHT, data }
  const options = { elements: [{ gradeId: 'fine', elementM: 0.016 }], densityPxPerM: 200, blurSigmaPx: 0.5 }
  const { tone, problems } = measureTone(raster, CORNERS, BOARD, options)
  return { k: tone!.roseK['fine']!, codes: problems.map(({ code }) => code) }
}

const low = ({ k, U }: RoseK): number => k - U
const STRONG = { board: 180, surround: 60, noise: 1.5 }
const FAINT = { board: 66, surround: 60, noise: 6 }
const unchanged = (code: number): number => code

describe('a surround that differs from side to side', () => {
  it.each([
    ['below the board', (_x: number, y: number) => y >= 121],
    ['from its middle down', (_x: number, y: number) => y >= 80],
    ['right of it', (x: number) => x >= 151],
  ])('widens k so far that what the file first showed is within it: spoilt %s', (_where, isSpoilt) => {
    const spoil = (code: number, x: number, y: number): number =>
      isSpoilt(x, y) && !(x >= 50 && x < 150 && y >= 40 && y < 120) ? 200 : code
    const [truth, spoilt] = [boardTone(FAINT, unchanged), boardTone(FAINT, spoil)]
    expect(low(truth.k)).toBeLessThan(5)
    expect(low(spoilt.k)).toBeLessThan(5)
    expect(spoilt.k.k).toBeGreaterThan(5)
    expect(Math.abs(spoilt.k.k - truth.k.k)).toBeLessThan(Math.hypot(spoilt.k.U, truth.k.U))
  })

  it('costs an even surround next to nothing', () => {
    const { k } = boardTone(STRONG, unchanged)
    expect(k.U / k.k).toBeLessThan(0.025)
  })
})

describe('a board of which a part is rough', () => {
  const rough = (code: number, x: number, y: number): number => (y >= 100 ? (x * 37 + y * 91) % 256 : code)

  it('is told', () => {
    expect(boardTone(STRONG, unchanged).codes).not.toContain('part-rough')
    expect(boardTone(STRONG, rough).codes).toContain('part-rough')
  })

  it('is not told where the rest is smooth because it is at white, or was smoothed', () => {
    const strong = { board: 200, surround: 60, noise: 12 }
    const lamp = (code: number, x: number, y: number): number => (x < 100 && y < 80 ? code + 75 : code)
    expect(boardTone(strong, lamp).codes).not.toContain('part-rough')
    const smoothed = (code: number, x: number, y: number): number => (x < 100 && y < 80 ? 200 : code)
    expect(boardTone(strong, smoothed).codes).not.toContain('part-rough')
  })
})
