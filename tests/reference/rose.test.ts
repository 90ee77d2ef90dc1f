import { describe, it } from 'vitest'
import { groundNoise } from '../../src/measure/tone/groundNoise.js'
import { roseK } from '../../src/measure/tone/roseK.js'
import { seededRandom } from '../../src/math/random.js'
import { phi } from '../measure/renderedBoard.js'
import { expectNear } from '../nearly.js'

describe('the Rose criterion', () => {
  it('is for the whole object: 5 per pixel on a 10 x 10 object is 50', () => {
    // A. Rose, J. Opt. Soc. Am. 38 (1948) 196-208: k = (contrast to noise per pixel) x sqrt(pixels in the object), the noise white;
    // a contrast to noise of 5 per pixel on 100 pixels is k = 50 (arithmetic).
    const random = seededRandom(3)
    const size = 300
    const data = Float32Array.from({ length: size * size }, () => 100 + 4 * random.normal())
    const all = new Uint8Array(size * size).fill(1)
    const noise = groundNoise(data, all, all, size, size)!
    const ground = {
      contrastCode: 20,
      contrastU: 0,
      blurPx: null,
      areLevelsClear: true,
      noise,
      isNoiseBound: false,
    }
    expectNear(roseK(ground, 10)!.k, 50, { rel: 0.02 }, '90000 pixels')
    expectNear(roseK(ground, 1)!.k, 5, { rel: 0.02 }, '90000 pixels')
  })

  it('is the matched filter’s, which sees of a square no more than blur and pixels leave of it', () => {
    // A. E. Burgess, J. Opt. Soc. Am. A 16 (1999) 633-646: Rose's k is the signal-to-noise ratio of the ideal observer for a flat object in white noise, and no more:
    // in general it is the energy of the signal as it is seen over its noise, here summed by hand for a square at every sixteenth of a pixel.
    for (const [sidePx, sigmaPx] of [
      [1.4, 0.7],
      [2.85, 1.2],
      [6, 2.5],
    ] as const) {
      const noise = { variance: 16, across: [1], down: [1], pixels: 1e6 }
      const blurPx = { value: sigmaPx, least: sigmaPx, most: sigmaPx }
      const ground = {
        contrastCode: 20,
        contrastU: 0,
        blurPx,
        areLevelsClear: true,
        noise,
        isNoiseBound: false,
      }
      let energy = 0
      for (let at = -20; at < 20; at += 1 / 16) {
        let seen = 0
        for (let k = 0; k < 32; k += 1) {
          const x = at + (k + 0.5) / 32 - 0.5
          seen += (phi((x + sidePx / 2) / sigmaPx) - phi((x - sidePx / 2) / sigmaPx)) / 32
        }
        energy += seen ** 2 / 16
      }
      expectNear(roseK(ground, sidePx)!.k, (20 * energy) / 4, { rel: 0.005 }, 'two ways to integrate')
    }
  })
})
