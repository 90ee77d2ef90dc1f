import { describe, expect, it } from 'vitest'
import { seededRandom } from '../../src/math/random.js'
import { dataJump, type BlockMeans } from '../../src/still/dataJump.js'

const [WIDTH, HEIGHT] = [160, 90]
const UNIT = { width: 2, height: 2 }

/** Block means of a scene with some texture, grey. */
function meansOf(light: (x: number, y: number) => number, seed = 1): BlockMeans {
  const random = seededRandom(seed)
  const samples = Uint8Array.from({ length: WIDTH * HEIGHT }, (_, at) => {
    const [x, y] = [at % WIDTH, Math.floor(at / WIDTH)]
    return Math.max(0, Math.min(255, Math.round(light(x, y) + 1.5 * random.normal())))
  })
  return { samples, channels: 1, width: WIDTH, height: HEIGHT }
}

const yard = (x: number, y: number): number => 120 + 40 * Math.sin(x / 21) * Math.cos(y / 17)
/** Shifted from unit `column` of a row of units on, in the order they are coded in. */
const shifted =
  (row: number, column: number, by: number) =>
  (x: number, y: number): number => {
    const [ownRow, ownColumn] = [Math.floor(y / 2), Math.floor(x / 2)]
    return yard(x, y) + (ownRow > row || (ownRow === row && ownColumn >= column) ? by : 0)
  }

describe('data that jump', () => {
  it('are found from the middle of a row of units on, brighter or darker, on 9 of 10 places', () => {
    const random = seededRandom(2)
    let found = 0
    for (let n = 0; n < 60; n++) {
      const [row, column] = [1 + Math.floor(42 * random.uniform()), 8 + Math.floor(64 * random.uniform())]
      if (dataJump(meansOf(shifted(row, column, n % 2 === 0 ? 12 : -12), n), UNIT) === row) found++
    }
    expect(found).toBeGreaterThanOrEqual(54)
  })

  it('are found in colours alone', () => {
    const { samples } = meansOf(yard)
    const colours = new Uint8Array(3 * samples.length)
    samples.forEach((value, at) => {
      const isAfter = Math.floor(at / WIDTH) >= 40 || (Math.floor(at / WIDTH) >= 38 && at % WIDTH >= 60)
      colours.set([value, value, Math.min(255, value + (isAfter ? 15 : 0))], 3 * at)
    })
    expect(dataJump({ samples: colours, channels: 3, width: WIDTH, height: HEIGHT }, UNIT)).toBe(19)
  })

  it('are not read into scenes: none, a wall’s foot, one that slopes, a beam with a step in it', () => {
    const scenes: ((x: number, y: number) => number)[] = [
      yard,
      (x, y) => yard(x, y) + (y >= 40 ? 30 : 0),
      ...[0.01, 0.0125, 0.02].map(
        (slope) => (x: number, y: number) => yard(x, y) + (y >= 44 - slope * x ? 30 : 0),
      ),
      (x, y) => yard(x, y) - (y >= (x >= 90 ? 40 : 42) && y < (x >= 90 ? 44 : 46) ? 25 : 0),
    ]
    for (const [at, scene] of scenes.entries())
      for (let seed = 0; seed < 20; seed++)
        expect(dataJump(meansOf(scene, seed), UNIT), `scene ${at}, seed ${seed}`).toBeNull()
  })
})
