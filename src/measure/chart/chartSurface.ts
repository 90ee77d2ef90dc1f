import { chartPaper } from '../../chart/printed/chartPapers.js'
import type { Raster } from '../../still/raster.js'
import type { ChartDirectionSharpness, ChartSharpness } from './chartSharpness.js'
import { chartContrast } from './chartContrast.js'
import { exportSigns } from '../export/exportSigns.js'
import type { MeasuredChart } from './measureChart.js'
import type { ChartReference } from '../reference/reference.js'
import { toneLoad } from '../edge/toneLoad.js'
import type { DirectionSharpness, SharedDetail, Sharpness, ToneElement } from '../stillMeasurement.js'
import type { Surface } from '../surface/surface.js'

/** The curve is kept in steps of 0.02 cycles/px up to 0.7: every fourth of its own steps. */
const KEPT_EVERY = 4
const KEPT_TO = 0.7
/** Ink that reads as no light has some all the same. */
const LEAST_LIGHT = 1e-3

/** Detail and tone of a found chart, and what the pixels around it betray of the still's export. `raster` covers the chart and its surround. */
export function chartSurface(
  raster: Raster,
  chart: MeasuredChart,
  against: {
    readonly reference: ChartReference
    readonly elements: readonly ToneElement[]
    readonly fullDetailAt: number
    readonly densityPxPerM: number
  },
): Surface {
  const { fit, exponent } = chart
  const face = chartPaper(against.reference.chart.paper)?.face ?? 0
  const { tone, problems } = chartContrast(raster, fit, face, {
    elements: against.elements,
    densityPxPerM: against.densityPxPerM,
    blurSigmaPx: fit.blurSigmaPx,
  })
  return {
    sharpness:
      chart.sharpness === null
        ? null
        : { ...sharpnessOf(chart.sharpness, against.fullDetailAt), shared: sharedOf(chart, chart.sharpness) },
    tone: tone === null || exponent === null ? tone : { ...tone, exponent },
    problems: [...chart.problems, ...problems, ...exportSigns(raster)],
  }
}

/** Read through the strip's curve, nothing is left of the camera's own but what its U holds. */
function sharedOf({ fit, tones }: MeasuredChart, { method }: ChartSharpness): SharedDetail {
  const load =
    tones === null ? toneLoad(method, Math.max(LEAST_LIGHT, fit.paper), Math.max(LEAST_LIGHT, fit.ink)) : 0
  return { toneLoad: load, shapeRel: 0 }
}

/** The lower direction decides the factor, with the hull interval; `factorU` is the longer arm. */
function sharpnessOf(chart: ChartSharpness, fullDetailAt: number): Sharpness {
  const { horizontal: h, vertical: v } = chart
  const factorOf = (f10: number): number => Math.min(1, Math.max(0, f10 / fullDetailAt))
  const factor = factorOf(Math.min(h.mtf10, v.mtf10))
  const low = factorOf(Math.min(h.mtf10 - h.mtf10U, v.mtf10 - v.mtf10U))
  const high = factorOf(Math.min(h.mtf10 + h.mtf10U, v.mtf10 + v.mtf10U))
  const ownU = (h.mtf10 <= v.mtf10 ? h : v).mtf10U
  return {
    method: chart.method,
    horizontal: directionOf(h),
    vertical: directionOf(v),
    factor,
    factorU: Math.max(factor - low, high - factor),
    ...(Number.isFinite(ownU) ? { f10OwnU: ownU } : {}),
    curve: {
      step: (h.curve.frequency[1] ?? 0) * KEPT_EVERY,
      horizontal: keptOf(h),
      vertical: keptOf(v),
    },
  }
}

function directionOf({ mtf50, mtf10, overshoot }: ChartDirectionSharpness): DirectionSharpness {
  return { mtf50, mtf10, overshoot }
}

function keptOf({ curve }: ChartDirectionSharpness): number[] {
  return curve.modulation.filter((_, k) => k % KEPT_EVERY === 0 && curve.frequency[k]! <= KEPT_TO + 1e-9)
}
