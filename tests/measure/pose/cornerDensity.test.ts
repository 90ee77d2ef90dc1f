import { describe, expect, it } from 'vitest'
import { fitHomography } from '../../../src/math/fitHomography.js'
import { jacobianAt } from '../../../src/math/homography.js'
import type { Point, Quad } from '../../../src/math/point.js'
import { seededRandom } from '../../../src/math/random.js'
import { centreJacobian, rectangleCorners } from '../../../src/measure/pose/cornerDensity.js'
import { expectNear } from '../../nearly.js'

const SQUARE: Quad = [
  [1000, 2000],
  [1300, 2000],
  [1300, 2200],
  [1000, 2200],
]

describe('the Jacobian at the centre of four corners', () => {
  it('is that of the homography by the direct linear transform', () => {
    const random = seededRandom(5)
    for (let k = 0; k < 200; k += 1) {
      const moved = SQUARE.map(([x, y]): Point => [x + 60 * random.normal(), y + 40 * random.normal()])
      const fit = fitHomography(rectangleCorners(0.6, 0.4), moved)
      const seen = centreJacobian(moved, 0.6, 0.4)
      expect(seen === null).toBe(!fit.ok)
      if (!fit.ok) continue
      const { alongX, alongY } = jacobianAt(fit.value.homography, 0, 0)
      for (const [own, its] of [
        [seen!.alongX, alongX],
        [seen!.alongY, alongY],
      ] as const)
        for (const i of [0, 1] as const) expectNear(own[i], its[i], { abs: 1e-6 }, 'px/m')
    }
  })

  it.each([0, 1, 2, 3])(
    'is none where corner %i lies on the line of its neighbours, beyond it, or is no number',
    (at) => {
      const [before, after] = [SQUARE[(at + 3) % 4]!, SQUARE[(at + 1) % 4]!]
      const middle: Point = [(before[0] + after[0]) / 2, (before[1] + after[1]) / 2]
      const opposite = SQUARE[(at + 2) % 4]!
      const beyond: Point = [
        middle[0] + 0.3 * (opposite[0] - middle[0]),
        middle[1] + 0.3 * (opposite[1] - middle[1]),
      ]
      for (const corner of [middle, beyond, [NaN, 0] as Point])
        expect(centreJacobian(SQUARE.with(at, corner), 0.6, 0.4)).toBeNull()
      expect(centreJacobian(SQUARE, 0.6, 0.4)).not.toBeNull()
    },
  )
})
