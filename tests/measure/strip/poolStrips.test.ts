import { describe, expect, it } from 'vitest'
import { seededRandom } from '../../../src/math/random.js'
import { poolStrips } from '../../../src/measure/strip/poolStrips.js'
import { figureOf } from '../../../src/measure/strip/stripFigures.js'
import type { StripDetail } from '../../../src/measure/stillMeasurement.js'
import { expectNear } from '../../nearly.js'

const PRINT_REL = 0.05

/** Strips of A = 20 + `off` and of k = A / 5, each of whose eighths, left out, changes A by what `change` gives for it. */
function strips(change: (piece: number) => number, off = 0): StripDetail {
  const a = 20 + off
  const without = Array.from({ length: 8 }, (_, piece) => a + change(piece))
  const { U } = figureOf((left) => (left === null ? a : without[left]!))
  return {
    frequencies: [],
    response24: [],
    response88: [],
    a,
    aU: Math.hypot(U, PRINT_REL * a),
    k: { identify: { k: a / 5, U: U / 5, least: 2.2 } },
    pieces: without.map((one) => ({ a: one, k: { identify: one / 5 } })),
    stroke: 0.2 / a,
    noise: 0.02,
    signs: [],
  }
}
const waves = (piece: number) => Math.cos(2.4 * piece)

describe('strips of one mark, pooled', () => {
  it('are those of the one still where there is one', () => {
    const one = strips(waves)
    expect(poolStrips([one])).toBe(one)
  })

  it('keep the U of what all stills have in common', () => {
    const one = strips(waves)
    const { a, aU, k } = poolStrips([one, one, one, one])
    expectNear(a, 20, { abs: 1e-9 })
    expectNear(aU, one.aU, { rel: 1e-9 })
    expectNear(k['identify']!.U, one.k['identify']!.U, { rel: 1e-9 })
    expect(k['identify']!.least).toBe(2.2)
  })

  it("average what is each still's own: four times the stills, half the U, but for the print's", () => {
    const random = seededRandom(5)
    const ratios = Array.from({ length: 200 }, () => {
      const of = (n: number) => poolStrips(Array.from({ length: n }, () => strips(() => random.normal())))
      const own = ({ aU }: { aU: number }) => Math.sqrt(aU ** 2 - (PRINT_REL * 20) ** 2)
      return [own(of(4)) / own(of(1)), of(4).k['identify']!.U / of(1).k['identify']!.U]
    })
    for (const kind of [0, 1]) {
      const squares = ratios.map((pair) => pair[kind]!)
      expectNear(squares.sort((a, b) => a - b)[100]!, 0.5, { abs: 0.05 })
    }
  })

  it('are never better known than the stills scatter: an I frame that shows a third less than P frames', () => {
    const offs = [-6, 0, 1, -1]
    const { a, aU } = poolStrips(offs.map((off) => strips(() => 0, off)))
    expectNear(a, 18.5, { abs: 1e-9 })
    // Twice the standard error: the deviations' squares sum to 29.
    expectNear(aU, Math.hypot(2 * Math.sqrt(29 / 3 / 4), PRINT_REL * a), { rel: 1e-9 })
  })
})
