import type { FoundChart } from '../../chart/find/foundChart.js'
import type { ChartFit } from '../../chart/fit/chartFit.js'
import { fitChart } from '../../chart/fit/fitChart.js'
import type { GreyImage } from '../../chart/match/greyImage.js'
import { moduleM } from '../../chart/printed/chartGeometry.js'
import type { ChartPaper } from '../../chart/printed/chartPapers.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import { codeFromLinear, linearFromCode } from '../../math/srgb.js'
import type { Problem, ToneExponent } from '../stillMeasurement.js'
import type { ChartBend } from './chartBend.js'
import { chartPick, type CornersPick } from './chartPick.js'
import { chartSharpness, type ChartSharpness } from './chartSharpness.js'
import { bendOf, fitFlatOrThroughLens } from './fitFlatOrThroughLens.js'
import type { StillFrame } from './lensFromBend.js'
import { toneExponent } from './toneExponent.js'
import { toneStrip, type ToneStrip } from './toneStrip.js'
import { problem } from '../../sentences.js'
import { measureSays } from '../sentences.js'

/** What a found chart tells of a still. */
export interface MeasuredChart {
  /** Outer corners of the black frame with the fit's covariance. */
  readonly pick: CornersPick
  /** In a flat view where the picture's own lens bent the chart evidently. */
  readonly fit: ChartFit
  /** How far the fit's residuals are from one plane's; null where that was not looked at. */
  readonly bend: ChartBend | null
  /** Null where it cannot be told; `problems` says why. */
  readonly sharpness: ChartSharpness | null
  /** The camera's tone curve from the chart's own strip, where it was used in place of sRGB. */
  readonly tones: ToneStrip | null
  /** By how much of paper's light the print spread the fine lines of the longer period; 0 where that is not told. */
  readonly lineSpread: number
  /** What the strip tells of the camera's curve, used or not. */
  readonly exponent: ToneExponent | null
  readonly problems: readonly Problem[]
}

/** What must be known of a chart to read it. */
export type ChartInSight = Readonly<{ map: FoundChart['map']; face: number; faceSure: boolean }>

export type NoMeasuredChart =
  'other-paper' | 'not-determined' | 'not-converged' | 'too-blurred' | 'chart-covered'

/** Strip and sRGB must differ by this much light (ink 0, paper 1) before the strip is believed: print and noise alone make as much. This project's convention. */
const LEAST_TONE_DIFFERENCE = 0.012
/** Where the strip is this far off sRGB and yet cannot be used, no curve is known that edges could be read by. This project's convention. */
const MOST_UNUSED_DIFFERENCE = 0.08
const MOST_CALM_NOISE = 0.06
/** The strip's curve is kept where the chart through it fits as well, or worse by no more than what undoing a curve does to the noise. */
const STRIP_LEAVES = 1.15
const NOISES_OVER_BLACK = 3
/** Least share of the chart's pixels in sight for its corners to be trusted. */
const LEAST_IN_SIGHT = 0.8

/**
 * Density's corners, sharpness and tone of a found chart of a known paper. Fails where the chart's face says another paper beyond doubt, where
 * too much of it is covered, and where the model cannot be fitted. `still` is where the still's middle lies in the picture: where the chart is bent as a lens with its
 * axis there bends it, it is read through that lens.
 */
export function measureChart(
  image: GreyImage,
  found: ChartInSight,
  paper: ChartPaper,
  still: StillFrame | null = null,
): Outcome<MeasuredChart, NoMeasuredChart> {
  if (found.faceSure && found.face !== paper.face) return failure(measureSays['other-paper'](paper.name))
  const options = { face: paper.face, halo: true, unevenLight: true }
  const fitted = fitFlatOrThroughLens(image, found.map, paper.face, still, options)
  if (!fitted.ok) return fitted
  let { fit, bend } = fitted.value
  if (fit.kept < LEAST_IN_SIGHT) return failure(measureSays['chart-covered']())
  const problems: Problem[] = []
  const strip = toneStrip(image, fit.map, paper.face, moduleM(paper))
  let tones: ToneStrip | null = null
  let read = image
  if (strip.ok && clearOfBlack(strip.value, fit) && differsFromSrgb(strip.value)) {
    const corrected = throughTones(image, strip.value)
    const again = fitChart(corrected, fit, options)
    if (again.ok && 1 - again.value.correlation < STRIP_LEAVES * (1 - fit.correlation)) {
      fit = again.value
      bend = bendOf(corrected, fit, paper.face)
      tones = strip.value
      read = corrected
    }
  }
  if (fit.unevenLight) problems.push(problem(measureSays['chart-uneven-light']()))
  const seen = chartSharpness(read, fit, paper.face, undefined, tones !== null)
  const isSteep = strip.ok && tones === null && isFarFromSrgb(strip.value, fit)
  const sharpness = seen.ok && isSteep ? failure(measureSays['chart-steep-tones']()) : seen
  if (!sharpness.ok) problems.push({ code: sharpness.code, message: sharpness.message })
  else if (sharpness.value.lifted !== null) {
    const { overshoot, mtf50 } = sharpness.value.lifted
    problems.push(problem(measureSays.lifted(overshoot, mtf50)))
  } else if (sharpness.value.waysAgree === false)
    problems.push(problem(measureSays['sharpness-ways-differ']()))
  return success({
    pick: chartPick(fit, fitted.value.lensCovariancePx2),
    fit,
    bend,
    sharpness: sharpness.ok ? sharpness.value : null,
    tones,
    lineSpread: strip.ok ? strip.value.spread : 0,
    exponent: strip.ok && clearOfBlack(strip.value, fit) ? toneExponent(strip.value) : null,
    problems,
  })
}

/** Whether ink stands clear of black by the noise: where noise is cut off there, mean code values tell no tone. */
function clearOfBlack({ codes }: ToneStrip, { residualDn }: ChartFit): boolean {
  return codes[0] > NOISES_OVER_BLACK * residualDn
}

function differsFromSrgb(tones: ToneStrip): boolean {
  return differenceFromSrgb(tones) > LEAST_TONE_DIFFERENCE
}

/** Whether the strip is far off sRGB, in little noise: much noise, cut off at black, makes it so by itself. */
function isFarFromSrgb(tones: ToneStrip, { residualDn }: ChartFit): boolean {
  const isCalm = residualDn < MOST_CALM_NOISE * (tones.codes[4] - tones.codes[0])
  return isCalm && differenceFromSrgb(tones) > MOST_UNUSED_DIFFERENCE
}

/** The most light (ink 0, paper 1) by which the strip's levels lie off sRGB's. */
function differenceFromSrgb(tones: ToneStrip): number {
  const [ink, paper] = [linearFromCode(tones.codes[0]), linearFromCode(tones.codes[4])]
  return Math.max(
    ...tones.codes.map((code, k) =>
      Math.abs((linearFromCode(code) - ink) / (paper - ink) - tones.lights[k]!),
    ),
  )
}

/** The picture as a camera with sRGB's curve would have given it: the strip's curve undone, ink and paper where they are. */
function throughTones(image: GreyImage, tones: ToneStrip): GreyImage {
  const [ink, paper] = [linearFromCode(tones.codes[0]), linearFromCode(tones.codes[4])]
  const table = new Float64Array(4 * 255 + 2)
  for (let at = 0; at < table.length; at += 1) {
    const light = ink + (paper - ink) * tones.toLight(at / 4)
    table[at] = codeFromLinear(Math.min(1, Math.max(0, light)))
  }
  const data = image.data.map((code) => {
    const at = Math.min(254.99, Math.max(0, code)) * 4
    const index = Math.floor(at)
    return table[index]! + (at - index) * (table[index + 1]! - table[index]!)
  })
  return { ...image, data }
}
