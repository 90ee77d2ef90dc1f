import { describe, expect, it } from 'vitest'
import type { Quad } from '../../src/math/point.js'
import { straightView } from '../../src/page/server/pictures/straightView.js'
import { withOpenCv } from '../support/openCv.js'

describe('a rectangle seen straight on', () => {
  it('is what OpenCV’s warpPerspective makes of the same corners', () => {
    const [width, height] = [400, 300]
    // Smooth, so that its sampling to 1/32 px is no more than a code value.
    const data = Uint8Array.from({ length: width * height * 3 }, (_, at) => {
      const [x, y] = [Math.floor(at / 3) % width, Math.floor(at / 3 / width)]
      return 128 + 60 * Math.sin(x / 23 + (at % 3)) + 50 * Math.cos(y / 17 - x / 41)
    })
    const corners: Quad = [
      [40.5, 30.25],
      [360, 61.75],
      [331.25, 262],
      [71, 240.5],
    ]
    const view = straightView({ region: { left: 0, top: 0, width, height }, data }, corners, 0.6, 0.4)!
    const theirs = withOpenCv((cv, keep) => {
      // OpenCV counts from the middle of the top-left pixel.
      const outline = [0, 0, view.width, 0, view.width, view.height, 0, view.height]
      const [to, from] = [outline, corners.flat()].map((points) =>
        keep(
          cv.matFromArray(
            4,
            1,
            cv.CV_32FC2,
            points.map((value) => value - 0.5),
          ),
        ),
      )
      const map = keep(cv.getPerspectiveTransform(to!, from!, cv.DECOMP_SVD))
      const out = keep(new cv.Mat())
      cv.warpPerspective(
        keep(cv.matFromArray(height, width, cv.CV_8UC3, data)),
        out,
        map,
        new cv.Size(view.width, view.height),
        cv.INTER_LINEAR | cv.WARP_INVERSE_MAP,
        cv.BORDER_REPLICATE,
      )
      return out.data.slice()
    })
    expect(view.data.length).toBe(theirs.length)
    const off = Array.from(theirs, (code, at) => view.data[at]! - code)
    expect(
      off.reduce((most, one) => Math.max(most, Math.abs(one)), 0),
      'codes',
    ).toBeLessThanOrEqual(1)
    expect(Math.abs(off.reduce((sum, one) => sum + one, 0) / off.length), 'codes on the mean').toBeLessThan(
      0.02,
    )
  })
})
