import { describe, expect, it } from 'vitest'
import { offsetPlane, pxPerModule, sheetPlane } from '../../../src/measure/strip/sheetPlane.js'
import { expectNear } from '../../nearly.js'

const MAP = Float64Array.of(20, 1, 300, -0.5, 19, 200, 0.001, 0.0005, 1)
const LENS = { p: -0.5, pixelsPerRadian: 500, centreX: 320, centreY: 240 }

describe("the plane of the strips' sheet", () => {
  for (const view of [null, { lens: LENS, middle: [400, 300] as const }])
    it(`leads to a part of the still and back, ${view === null ? 'as it lies' : 'through the lens it was fitted in'}`, () => {
      const plane = offsetPlane(sheetPlane(MAP, view, { left: 120, top: 80 })!, {
        x: 0.4,
        y: -0.7,
        turnRad: 0.03,
      })
      const whole = sheetPlane(MAP, view)!
      for (const [x, y] of [
        [0, 0],
        [7, 5],
        [12.8, 8.8],
      ] as const) {
        const [px, py] = plane.toPicture(x, y)!
        const back = plane.toSheet(px, py)!
        expectNear(back[0], x, { abs: 1e-6 })
        expectNear(back[1], y, { abs: 1e-6 })
      }
      // The sheet turns about its middle, which lies where it was moved to.
      const [px, py] = plane.toPicture(7, 5)!
      const [wholeX, wholeY] = whole.toPicture(7.4, 4.3)!
      expectNear(px, wholeX - 120, { abs: 1e-9 })
      expectNear(py, wholeY - 80, { abs: 1e-9 })
      expect(pxPerModule(plane, 7, 5)!.isLevel).toBe(true)
    })

  it('is none where the map has no way back', () => {
    expect(sheetPlane(new Float64Array(9), null)).toBeNull()
  })
})
