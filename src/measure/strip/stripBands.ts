/** Frequencies between which the strip's pattern is parted, cycles per px; the lowest band reaches down to 0. What lies above Nyquist is told apart, else it would be noise. */
export const BAND_NODES = [0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.65] as const
export const BANDS = BAND_NODES.length

const PAD_PX = 12
const PLACES_PER_PX = 8

/** A strip's pattern parted into bands whose sum is the pattern: what each band is at any place along it. */
export interface StripBands {
  /** Writes the bands at `px` along the strip to `out`, and their slopes per px to `slopes`. */
  at(px: number, out: Float64Array, slopes: Float64Array): void
}

/**
 * Parts a strip `lengthPx` long into bands of triangular weight in frequency. Bars lie between every first and second of `edgesPx`, which are in px from the
 * strip's begin; they count 1, paper 0. By its Fourier series, 12 px of paper at either end.
 */
export function stripBands(edgesPx: readonly number[], lengthPx: number): StripBands {
  const period = lengthPx + 2 * PAD_PX
  const places = Math.ceil(period * PLACES_PER_PX) + 1
  const table = new Float64Array(places * BANDS)
  const weights = new Float64Array(BANDS)
  for (let n = 0; n <= BAND_NODES[BANDS - 1]! * period; n += 1) {
    const turn = (2 * Math.PI * n) / period
    let [cosine, sine] = [0, 0]
    edgesPx.forEach((edge, index) => {
      const sign = index % 2 === 0 ? -1 : 1
      if (n === 0) cosine += (sign * edge) / period
      else {
        cosine += (sign * Math.sin(turn * edge) * 2) / (turn * period)
        sine -= (sign * Math.cos(turn * edge) * 2) / (turn * period)
      }
    })
    writeWeights(n / period, weights)
    for (let place = 0; place < places; place += 1) {
      const angle = turn * (place / PLACES_PER_PX - PAD_PX)
      const value = cosine * Math.cos(angle) + sine * Math.sin(angle)
      for (let band = 0; band < BANDS; band += 1)
        if (weights[band] !== 0) table[place * BANDS + band]! += weights[band]! * value
    }
  }
  return {
    at(px, out, slopes) {
      const along = Math.min(places - 1.001, Math.max(0, (px + PAD_PX) * PLACES_PER_PX))
      const place = Math.floor(along)
      const share = along - place
      for (let band = 0; band < BANDS; band += 1) {
        const [from, to] = [table[place * BANDS + band]!, table[(place + 1) * BANDS + band]!]
        out[band] = from + share * (to - from)
        slopes[band] = (to - from) * PLACES_PER_PX
      }
    },
  }
}

/** Triangular weights of a frequency between its neighbouring nodes; all of it to the lowest below that. */
function writeWeights(frequency: number, out: Float64Array): void {
  out.fill(0)
  if (frequency <= BAND_NODES[0]) {
    out[0] = 1
    return
  }
  for (let band = 1; band < BANDS; band += 1) {
    const [below, above] = [BAND_NODES[band - 1]!, BAND_NODES[band]!]
    if (frequency > above) continue
    out[band] = (frequency - below) / (above - below)
    out[band - 1] = 1 - out[band]!
    return
  }
}
