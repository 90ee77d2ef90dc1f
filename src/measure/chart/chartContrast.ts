import {
  boxCorners,
  chartAreas,
  chartFace,
  FIELD,
  FRAME_HEIGHT_MODULES,
  FRAME_WIDTH_MODULES,
  LETTERED_EDGE,
} from '../../chart/printed/chartGeometry.js'
import type { ChartFit } from '../../chart/fit/chartFit.js'
import { mapPoint } from '../../math/homography.js'
import type { Quad } from '../../math/point.js'
import type { Raster } from '../../still/raster.js'
import { boxSums } from '../tone/boxSums.js'
import { ROUNDING_NOISE_CODE } from '../tone/noise.js'
import { rasterAround } from '../rasterAround.js'
import { insideSpans } from '../tone/insideSpans.js'
import { sideLines } from '../edge/sideLine.js'
import { codeFromLinear } from '../../math/srgb.js'
import { toneOf, type ToneOptions, type ToneResult } from '../tone/tone.js'
import {
  clearOfBorders,
  noiseClearOf,
  type ReferenceCut,
  type ToneAreas,
  whiteGround,
} from '../tone/toneAreas.js'
import { classLevels, LEAST_QUIET, type ClassLevel } from '../tone/toneLevels.js'
import { problem } from '../../sentences.js'
import { measureSays } from '../sentences.js'

/** Even without any blur a border runs through its pixels. */
const LEAST_BLUR_PX = 0.5
/** The quiet paper reaches so far beyond the frame. */
const MODULES_AROUND = 1.3

/**
 * Tone of a found chart: levels and noise of its paper and its ink by their place, clear of every border. Where the chart is too small for that
 * the fitted levels stand in, and the fit's residuals for the noise, which is then an upper bound.
 */
export function chartContrast(raster: Raster, fit: ChartFit, face: number, options: ToneOptions): ToneResult {
  const lines = sideLines(fit.corners)
  const around = rasterAround(raster, fit.corners, MODULES_AROUND * pixelsPerModule(fit.corners))
  const { width, height, data } = around
  const labels = inkLabels(around, fit, face)
  const cut: ReferenceCut = {
    ...around,
    codes: boxSums(data, width, height),
    lines,
    shortSidePx: Math.min(...lines.map(({ depthPx }) => depthPx)),
    clearPx: 2 * Math.max(LEAST_BLUR_PX, fit.blurSigmaPx),
  }
  const quiet = clearOfBorders(labels, width, height, Math.ceil(cut.clearPx))
  const measured = noiseClearOf(cut, labels, true)
  const bound = Math.max(ROUNDING_NOISE_CODE, fit.residualDn)
  const areas: ToneAreas = {
    labels,
    quiet,
    ...(measured ?? { noise: bound, ground: whiteGround(bound, fit.pixels) }),
    noiseKind: measured === null ? 'bound' : 'measured',
    parted: true,
    isMarked: true,
    splitBiasCode: 0,
    surroundU: 0,
    isPartRough: false,
  }
  const seen = classLevels(cut, areas)
  if (seen === null) return { tone: null, problems: [problem(measureSays['tone-too-small']('chart'))] }
  if (leastClear(areas) >= LEAST_QUIET) return toneOf(cut, areas, seen, options)
  const levels = {
    bright: fittedLevel(seen.bright, fit.paper, fit.pixels),
    dim: fittedLevel(seen.dim, fit.ink, fit.pixels),
    areClear: true,
  }
  return toneOf(cut, areas, levels, options)
}

/** How many pixels clear of borders the class with fewer has. */
function leastClear({ labels, quiet }: ToneAreas): number {
  const clear = [0, 0, 0]
  for (let at = 0; at < labels.length; at += 1) if (quiet[at] === 1) clear[labels[at]!]! += 1
  return Math.min(clear[1]!, clear[2]!)
}

/** Pixels to a module along the longer of the frame's upper and left sides. */
function pixelsPerModule([a, b, , d]: Quad): number {
  const across = Math.hypot(b[0] - a[0], b[1] - a[1]) / FRAME_WIDTH_MODULES
  return Math.max(across, Math.hypot(d[0] - a[0], d[1] - a[1]) / FRAME_HEIGHT_MODULES)
}

/** What the whole fit says of a level, which far off is read from a quarter of its pixels. */
function fittedLevel(seen: ClassLevel, light: number, pixels: number): ClassLevel {
  const linear = Math.min(1, Math.max(0, light))
  return { ...seen, linear, code: codeFromLinear(linear), count: pixels / 4 }
}

/** 1 where a pixel's middle lies on paper, 2 on ink, 0 on lines, on the lettered edge and beyond the sheet. */
function inkLabels(raster: Raster, fit: ChartFit, face: number): Uint8Array {
  const labels = new Uint8Array(raster.width * raster.height)
  const fill = (corners: Quad, label: number): void =>
    fillQuad(labels, raster, corners.map(([u, v]) => mapPoint(fit.map, u, v)) as unknown as Quad, label)
  const [right, bottom] = [FIELD.width - LETTERED_EDGE, FIELD.height - LETTERED_EDGE]
  fill(boxCorners({ left: LETTERED_EDGE, top: LETTERED_EDGE, right, bottom }), 1)
  // Each area lies on those before it.
  for (const { part, corners, weight } of chartAreas(chartFace(face)))
    fill(corners, part === 'strip' ? 0 : weight > 0 ? 2 : 1)
  return labels
}

function fillQuad(labels: Uint8Array, raster: Raster, quad: Quad, label: number): void {
  const { width, height } = raster
  const spans = insideSpans(sideLines(quad), raster, 0)
  for (let j = 0; j < height; j += 1)
    labels.fill(label, j * width + spans[2 * j]!, j * width + spans[2 * j + 1]!)
}
