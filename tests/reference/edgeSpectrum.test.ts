import { describe, expect, it } from 'vitest'
import { seededRandom } from '../../src/math/random.js'
import { edgeSpectrum } from '../../src/measure/chart/edgeSpectrum.js'
import { expectNear } from '../nearly.js'
import { withOpenCv } from '../support/openCv.js'

// Bins of a quarter pixel padded to 800: OpenCV's k-th term is then the frequency k/200 cycles/px, as in the curve.
const BINS = 161
const PADDED = 800

describe('the spectrum of an edge', () => {
  it.each([0.6, 1.4, 3])('of %d px blur is OpenCV’s discrete Fourier transform of its slopes', (sigmaPx) => {
    const random = seededRandom(2)
    // Rises, a little unevenly, within the middle of the bins alone: there the window is 1.
    const light = new Float64Array(BINS)
    for (let k = 1; k < BINS; k += 1) {
      const off = (k - (BINS - 1) / 2) / 4
      const rise = Math.abs(off) < 8 ? Math.exp(-(off * off) / (2 * sigmaPx * sigmaPx)) : 0
      light[k] = light[k - 1]! + rise * (1 + 0.1 * random.normal())
    }
    const slopes = Array.from({ length: PADDED }, (_, k) => (k < BINS - 1 ? light[k + 1]! - light[k]! : 0))
    const theirs = withOpenCv((cv, keep) => {
      const terms = keep(new cv.Mat())
      cv.dft(keep(cv.matFromArray(1, PADDED, cv.CV_64FC1, slopes)), terms, cv.DFT_COMPLEX_OUTPUT)
      return terms.data64F.slice()
    })
    const { frequency, modulation } = edgeSpectrum(light)
    expect(frequency).toHaveLength(201)
    for (const [k, f] of frequency.entries()) {
      expectNear(f, k / 200, { abs: 1e-15 })
      // The two-point difference and the width of a bin.
      const own = k === 0 ? 1 : (Math.sin((Math.PI * f) / 4) / ((Math.PI * f) / 4)) ** 2
      const expected = Math.hypot(theirs[2 * k]!, theirs[2 * k + 1]!) / Math.abs(theirs[0]!) / own
      expectNear(modulation[k]!, expected, { abs: 1e-12 }, `at ${f} cycles/px`)
    }
  })
})
