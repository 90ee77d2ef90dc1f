import { describe, it } from 'vitest'
import { writtenRounding } from '../../src/lens/readAngles.js'
import { expectNear } from '../nearly.js'

describe('the rounding of a written number', () => {
  it('is half a unit of its last digit, and never finer than arithmetic', () => {
    for (const [value, rounding] of [
      [52, 0.5],
      [100, 0.5],
      [52.3, 0.05],
      [52.25, 0.005],
      [86.02345678901234, 1e-6],
      [1e-7, 1e-6],
      [1e21, 5e20],
    ] as const) {
      expectNear(writtenRounding(value), rounding, { rel: 1e-9 })
    }
  })
})
