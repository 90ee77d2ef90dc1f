import { describe, expect, it } from 'vitest'
import { seededRandom } from '../../src/math/random.js'
import { boxSum, boxSums } from '../../src/measure/tone/boxSums.js'
import { expectNear } from '../nearly.js'
import { withOpenCv } from '../support/openCv.js'

describe('running sums', () => {
  it('are OpenCV’s integral, and a box is the sum of what lies in it', () => {
    const random = seededRandom(5)
    const [width, height] = [61, 37]
    const values = Float32Array.from({ length: width * height }, () => 255 * random.uniform())
    const sums = boxSums(values, width, height)
    const theirs = withOpenCv((cv, keep) => {
      const table = keep(new cv.Mat())
      cv.integral(keep(cv.matFromArray(height, width, cv.CV_32FC1, values)), table, cv.CV_64F)
      return table.data64F.slice()
    })
    expect(sums.table.length).toBe(theirs.length)
    for (const [at, value] of theirs.entries()) expectNear(sums.table[at]!, value, { rel: 1e-13 }, String(at))
    const [left, top, right, bottom] = [7, 3, 40, 21]
    let sum = 0
    for (let y = top; y < bottom; y += 1) for (let x = left; x < right; x += 1) sum += values[y * width + x]!
    expectNear(boxSum(sums, left, top, right, bottom), sum, { rel: 1e-12 })
  })
})
