import { describe, it } from 'vitest'
import { boxSums } from '../../src/measure/tone/boxSums.js'
import { LEAST_SQUARES, roseK } from '../../src/measure/tone/roseK.js'
import { squareRoom } from '../../src/measure/tone/squareRoom.js'
import { squareScatter } from '../../src/measure/tone/squareScatter.js'
import { seededRandom } from '../../src/math/random.js'
import { expectNear } from '../nearly.js'

describe('the Rose criterion', () => {
  it('is for the whole object: 5 per pixel on a 10 x 10 object is 50', () => {
    // A. Rose, J. Opt. Soc. Am. 38 (1948) 196-208: k = (contrast to noise per pixel) x sqrt(pixels in the object), the noise white;
    // a contrast to noise of 5 per pixel on 100 pixels is k = 50 (arithmetic).
    const random = seededRandom(3)
    const size = 300
    const data = Float32Array.from({ length: size * size }, () => 100 + 4 * random.normal())
    const all = new Uint8Array(size * size).fill(1)
    const [codes, room] = [boxSums(data, size, size), squareRoom(all, size, size)]
    const ground = {
      codes,
      room,
      single: squareScatter(codes, room, all, 1, LEAST_SQUARES),
      labels: all,
      contrastCode: 20,
      contrastU: 0,
      noiseCode: 4,
      parted: true,
    }
    expectNear(roseK(ground, 10)!.k, 50, { rel: 0.08 }, '900 squares: 2.4 % standard deviation')
    expectNear(roseK(ground, 1)!.k, 5, { rel: 0.02 }, '90000 pixels')
  })
})
