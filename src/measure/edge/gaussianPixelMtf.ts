/**
 * Modulation at `frequency` (cycles/px) of a Gaussian blur of `sigmaPx` seen through a square pixel, for an edge along
 * a pixel axis: |sinc f| exp(-2 pi^2 sigma^2 f^2). Source: textbook Fourier pairs.
 */
export function gaussianPixelMtf(frequency: number, sigmaPx: number): number {
  const x = Math.PI * frequency
  const aperture = x < 1e-9 ? 1 : Math.abs(Math.sin(x) / x)
  return aperture * Math.exp(-2 * (x * sigmaPx) ** 2)
}

/** The first frequency (cycles/px, under 1) where {@link gaussianPixelMtf} falls to `level`, 0 < level < 1. */
export function frequencyAtModulation(level: number, sigmaPx: number): number {
  let low = 0
  let high = 1
  for (let step = 0; step < 50; step += 1) {
    const middle = (low + high) / 2
    if (gaussianPixelMtf(middle, sigmaPx) > level) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/** The blur, px, whose {@link gaussianPixelMtf} falls to a tenth at `f10`, cycles/px: 0 where the pixel alone does so, at most 8. */
export function sigmaOfF10(f10: number): number {
  const aperture = gaussianPixelMtf(f10, 0)
  if (!(f10 > 0) || aperture <= 0.1) return f10 > 0 ? 0 : 8
  return Math.min(8, Math.sqrt(Math.log(aperture / 0.1) / 2) / (Math.PI * f10))
}
