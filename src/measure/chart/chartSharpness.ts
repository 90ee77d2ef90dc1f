import type { ChartFit } from '../../chart/fit/chartFit.js'
import type { GreyImage } from '../../chart/match/greyImage.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import { chartEdges, type EdgeSpread } from './chartEdges.js'
import { edgeSpectrum, firstCrossing, type ModulationCurve } from './edgeSpectrum.js'
import { frequencyAtModulation, gaussianPixelMtf } from '../edge/gaussianPixelMtf.js'
import { coverageFactor } from '../../math/quantiles.js'
import { codeFromLinear, linearFromCode } from '../../math/srgb.js'
import { measureSays } from '../sentences.js'

/** One direction's sharpness with its expanded uncertainties (95 %); frequencies in cycles/px, overshoot a share of the step. */
export interface ChartDirectionSharpness {
  readonly mtf50: number
  readonly mtf50U: number
  readonly mtf10: number
  readonly mtf10U: number
  readonly overshoot: number
  readonly curve: ModulationCurve
}

/** Sharpness read from the chart's slabs. */
export interface ChartSharpness {
  readonly method: 'edge' | 'fit'
  readonly horizontal: ChartDirectionSharpness
  readonly vertical: ChartDirectionSharpness
  /**
   * What the edges would read of a picture that the camera sharpened, the higher direction; `horizontal` and `vertical`
   * are then those of the blur beneath. Null where it did not.
   */
  readonly lifted: { readonly mtf50: number | null; readonly overshoot: number } | null
  /** Where both ways apply: whether they agree within their joint uncertainty; null where only one does. */
  readonly waysAgree: boolean | null
}

export type NoSharpness = 'chart-washed-out' | 'chart-ink-clipped' | 'chart-sharpened' | 'chart-too-noisy'

/** Half a window must hold so many blurs, else the window itself is read (chart trials: 4 leave 1 to 2 %). */
const BLURS_IN_HALF_WINDOW = 4
/** Over this share of clipped pixels the steps of ISO 12233 are not used: the edge looks sharper than it is. */
const MOST_CLIPPED = 0.02
/** Over these shares of an edge's pixels at white or at black, half of which are paper and half ink, no way tells: its head or foot is cut off. */
const MOST_WHITE = 0.05
const MOST_BLACK = 0.25
/** Noise over this share of the step keeps the edge way from being used: what noise adds to the spectrum's tail (chart trials). */
const MOST_NOISE_SHARE = 0.04
/** Overshoot of the edges told as sharpening, share of the step; a fitted halo is always told. This project's convention. */
const LIFTED_OVERSHOOT = 0.1
/** A relative standard uncertainty no fit goes below: the blur is no perfect Gaussian. This project's convention. */
const FIT_FLOOR_REL = 0.01
/** The blur beneath a halo is right to that share and so much more for its overshoot, a standard uncertainty: unsharp masks of 1 px leave up to 14 % where they add the whole difference, 19 % where twice. */
const HALO_REL = 0.06
const HALO_REL_PER_OVERSHOOT = 0.15
/** What a tone curve through five levels leaves open in the blur, a standard uncertainty (simulated gammas and an S-curve: up to 1.5 %). */
const STRIP_REL = 0.01
/** Where MTF50 is not known to this share (95 %), it is not told; beneath a halo to that one. This project's convention. */
const MOST_U_REL = 0.1
const MOST_LIFTED_U_REL = 0.3
/** Both ways may differ by this and still agree: the one takes a Gaussian, the other a window. This project's convention. */
const WAYS_REL = 0.03

/**
 * Sharpness across upright and level edges: by the edge-based steps of ISO 12233 where the slabs' free ground holds the blur, else from the
 * blur the whole chart was fitted with, seen through a square pixel. `toLight` linearises code values (the tone strip's curve, or sRGB); `byStrip` says that the picture came through the strip's curve.
 * Of a picture the camera sharpened it is the blur beneath the halo.
 */
export function chartSharpness(
  image: GreyImage,
  fit: ChartFit,
  face: number,
  toLight: (code: number) => number = linearFromCode,
  byStrip = false,
): Outcome<ChartSharpness, NoSharpness> {
  const edges = chartEdges(image, fit, face, toLight)
  const cut = clippedSharpness(edges)
  if (cut !== null) return cut
  const byFit: ChartSharpness = {
    method: 'fit',
    horizontal: fittedDirection(fit, 'upright', byStrip),
    vertical: fittedDirection(fit, 'level', byStrip),
    lifted: null,
    waysAgree: null,
  }
  const fitted = [byFit.horizontal, byFit.vertical]
  const told = fitted.every((way) => way.mtf50U <= MOST_U_REL * way.mtf50)
  const byEdges = edgeWays(edges, fit)
  const seen = byEdges === null ? 0 : Math.max(...byEdges.map((way) => way.overshoot))
  const overshoot = Math.max(seen, fit.halo?.overshoot ?? 0)
  if (seen > LIFTED_OVERSHOOT || fit.halo !== null) {
    // A halo of another shape than the fitted one, or a blur that it leaves open: nothing beneath is told.
    if (fit.halo === null || fitted.some((way) => way.mtf50U > MOST_LIFTED_U_REL * way.mtf50))
      return failure(measureSays['chart-sharpened'](overshoot))
    const mtf50 = byEdges === null ? null : Math.max(...byEdges.map((way) => way.mtf50))
    return success({ ...byFit, lifted: { mtf50, overshoot } })
  }
  if (byEdges === null) {
    if (!told) return failure(measureSays['chart-too-noisy']())
    return success(byFit)
  }
  const [horizontal, vertical] = byEdges
  const agree = byEdges.every(
    (way, k) =>
      Math.abs(way.mtf50 - fitted[k]!.mtf50) <=
      Math.hypot(way.mtf50U, fitted[k]!.mtf50U) + WAYS_REL * fitted[k]!.mtf50,
  )
  // Where a Gaussian describes the edges and both ways agree, the one that knows more speaks.
  if (agree && told && Math.max(horizontal.mtf50U, vertical.mtf50U) > fitted[0]!.mtf50U)
    return success({ ...byFit, waysAgree: true })
  return success({ method: 'edge', horizontal, vertical, lifted: null, waysAgree: agree })
}

/** Why edges at the ends of the scale tell nothing; null where they are not there. */
function clippedSharpness(edges: readonly EdgeSpread[]): Outcome<never, NoSharpness> | null {
  if (edges.length === 0) return null
  if (edges.every((edge) => edge.white > MOST_WHITE)) return failure(measureSays['chart-washed-out']())
  if (edges.every((edge) => edge.black > MOST_BLACK)) return failure(measureSays['chart-ink-clipped']())
  return null
}

/** Both directions by the edges; null where the slabs do not hold the blur, pixels clip, or noise would be read as detail. */
function edgeWays(
  edges: readonly EdgeSpread[],
  fit: ChartFit,
): readonly [ChartDirectionSharpness, ChartDirectionSharpness] | null {
  if (fit.residualDn / stepOf(fit) >= MOST_NOISE_SHARE) return null
  const blurPx = Math.sqrt(fit.blurSigmaPx ** 2 + 1 / 12)
  const usable = edges.filter(
    ({ white, black, halfPx }) => white + black <= MOST_CLIPPED && halfPx >= BLURS_IN_HALF_WINDOW * blurPx,
  )
  const horizontal = edgeDirection(usable.filter((edge) => edge.direction === 'horizontal'))
  const vertical = edgeDirection(usable.filter((edge) => edge.direction === 'vertical'))
  return horizontal === null || vertical === null ? null : [horizontal, vertical]
}

/** Code values between ink and paper, as fitted. */
function stepOf(fit: ChartFit): number {
  const code = (light: number): number => codeFromLinear(Math.min(1, Math.max(0, light)))
  return Math.max(1, code(fit.paper) - code(fit.ink))
}

function fittedDirection(fit: ChartFit, way: 'upright' | 'level', byStrip: boolean): ChartDirectionSharpness {
  const { sigmaPx: sigma, u } = fit.blur[way]
  const mtf50 = frequencyAtModulation(0.5, sigma)
  const mtf10 = frequencyAtModulation(0.1, sigma)
  const overshoot = fit.halo?.overshoot ?? 0
  const wider =
    sigma +
    Math.hypot(
      u,
      FIT_FLOOR_REL * sigma,
      fit.halo === null ? 0 : (HALO_REL + HALO_REL_PER_OVERSHOOT * overshoot) * sigma,
      byStrip ? STRIP_REL * sigma : 0,
    )
  const frequency = Array.from({ length: 201 }, (_, k) => k / 200)
  return {
    mtf50,
    mtf50U: 2 * (mtf50 - frequencyAtModulation(0.5, wider)),
    mtf10,
    mtf10U: 2 * (mtf10 - frequencyAtModulation(0.1, wider)),
    overshoot,
    curve: { frequency, modulation: frequency.map((f) => gaussianPixelMtf(f, sigma)) },
  }
}

/** All edges of a direction pooled, with the scatter between them as uncertainty; null where fewer than two serve. */
function edgeDirection(edges: readonly EdgeSpread[]): ChartDirectionSharpness | null {
  if (edges.length < 2) return null
  const bins = Math.min(...edges.map((edge) => edge.light.length))
  const pooled = new Float64Array(bins)
  const weights = new Float64Array(bins)
  const own50: number[] = []
  const own10: number[] = []
  for (const edge of edges) {
    const skip = (edge.light.length - bins) / 2
    const [low, high] = plateaus(edge.light)
    for (let bin = 0; bin < bins; bin += 1) {
      const value = edge.light[bin + skip]!
      if (Number.isNaN(value)) continue
      pooled[bin]! += (edge.counts[bin + skip]! * (value - low)) / (high - low)
      weights[bin]! += edge.counts[bin + skip]!
    }
    const curve = edgeSpectrum(edge.light)
    const [f50, f10] = [firstCrossing(curve, 0.5), firstCrossing(curve, 0.1)]
    if (f50 !== null) own50.push(f50)
    if (f10 !== null) own10.push(f10)
  }
  for (let bin = 0; bin < bins; bin += 1) pooled[bin] = weights[bin]! > 0 ? pooled[bin]! / weights[bin]! : NaN
  const curve = edgeSpectrum(pooled)
  const [mtf50, mtf10] = [firstCrossing(curve, 0.5), firstCrossing(curve, 0.1)]
  if (mtf50 === null || mtf10 === null) return null
  const filled = pooled.filter((value) => !Number.isNaN(value))
  const overshoot = Math.max(0, Math.max(...filled) - 1, -Math.min(...filled))
  return { mtf50, mtf50U: meanU(own50), mtf10, mtf10U: meanU(own10), overshoot, curve }
}

/** Means of the outer fifths of a profile: dark and light ground. */
function plateaus(light: Float64Array): readonly [number, number] {
  const fifth = Math.max(2, Math.floor(light.length / 5))
  const mean = (part: Float64Array): number => {
    const known = part.filter((value) => !Number.isNaN(value))
    return known.reduce((sum, value) => sum + value, 0) / known.length
  }
  return [mean(light.subarray(0, fifth)), mean(light.subarray(light.length - fifth))]
}

/** Expanded uncertainty (95 %) of the mean of a few values from their scatter. */
function meanU(values: readonly number[]): number {
  const n = values.length
  if (n < 2) return Infinity
  const mean = values.reduce((sum, value) => sum + value, 0) / n
  const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (n - 1)
  return coverageFactor(n - 1) * Math.sqrt(variance / n)
}
