import { expect, it } from 'vitest'
import type { Quad } from '../../../src/math/point.js'
import { expandedU } from '../../../src/measure/density/axisBudget.js'
import { measureDensity } from '../../../src/measure/density/density.js'
import type { PickDoubt } from '../../../src/measure/reference/pick.js'
import { PLATE } from '../boardReference.js'
import { expectNear } from '../../nearly.js'

const rectangle = (out: number): Quad => [
  [100 - out, 100 - out],
  [300 + out, 100 - out],
  [300 + out, 143 + out],
  [100 - out, 143 + out],
]

function densityOf(corners: Quad, doubts?: readonly PickDoubt[]) {
  const pick = {
    kind: 'corners',
    corners,
    method: 'snapped',
    sigmaPx: 0.1,
    ...(doubts === undefined ? {} : { doubts }),
  } as const
  const measured = measureDensity(PLATE, pick, { stillWidth: 1280, stillHeight: 720, distanceM: 8 })
  if (!measured.ok) throw new Error(measured.message)
  return measured.value
}

it('is the hull of both outlines where a fit doubted its own: no less, no more, its value in the middle', () => {
  const [own, other] = [densityOf(rectangle(0)), densityOf(rectangle(2))]
  const both = densityOf(rectangle(0), [{ code: 'snap-border-unknown', corners: rectangle(2) }])
  const { density, budget } = both
  const tight = { rel: 1e-9 }
  for (const [axis, U] of [
    ['horizontal', 'horizontalU'],
    ['vertical', 'verticalU'],
  ] as const) {
    const why = `${axis}: the ends of the two intervals`
    expectNear(density[axis]! - density[U]!, own.density[axis]! - own.density[U]!, tight, why)
    expectNear(density[axis]! + density[U]!, other.density[axis]! + other.density[U]!, tight, why)
    expectNear(expandedU(budget[axis]!), density[U]!, tight, 'what judges marks reads the budget')
  }
  expect(density.low).toBeLessThan(own.density.low + 1e-9)
  expect(density.high).toBeGreaterThan(other.density.high - 1e-9)
  expect(both.corners).toEqual(rectangle(0))
  expect(both.problems.map(({ code }) => code)).toContain('pick-doubted')
  expect(both.problems[0]!.message).toContain('nobody said how its border is made')
})

it('is its own where a fit doubted without another outline, and says so', () => {
  const told = densityOf(rectangle(0), [{ code: 'snap-shape' }])
  expect(told.density).toEqual(densityOf(rectangle(0)).density)
  expect(told.problems.map(({ code }) => code)).toContain('pick-doubted')
})
