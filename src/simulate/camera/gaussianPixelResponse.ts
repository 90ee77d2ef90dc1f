/**
 * The modulation a camera of Gaussian blur `sigmaPx` and square pixels passes at `frequency` cycles/px along an axis:
 * exp(-2 pi^2 s^2 f^2) sinc f (textbook).
 */
export function gaussianPixelResponse(sigmaPx: number, frequency: number): number {
  const x = Math.PI * frequency
  const aperture = x === 0 ? 1 : Math.sin(x) / x
  return Math.exp(-2 * (Math.PI * sigmaPx * frequency) ** 2) * aperture
}

/** The frequency, cycles/px, at which that response first falls to `level` (0.5: MTF50, 0.1: f10), by bisection below its first zero. */
export function gaussianPixelCrossing(sigmaPx: number, level: number): number {
  let [low, high] = [0, 1]
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2
    if (gaussianPixelResponse(sigmaPx, middle) > level) low = middle
    else high = middle
  }
  return (low + high) / 2
}
