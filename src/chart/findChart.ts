import { failure, success, type Outcome } from '../math/outcome.js'
import type { Quad } from '../math/point.js'
import { followCandidate, frameCorners, plausibleFrame, type MatchedChart } from './chartCandidate.js'
import { FIELD, FRAME } from './chartGeometry.js'
import { boxSeeds } from './boxSeeds.js'
import { chartStructure } from './chartStructure.js'
import { chartTemplates, type ChartTemplate, type TemplateSet } from './chartTemplate.js'
import { darkPieceOutlines } from './darkPieces.js'
import { darkRuns } from './darkRuns.js'
import { fitChart } from './fitChart.js'
import { halveImage, noiseScale, smoothImage, type GreyImage } from './greyImage.js'
import { agreement, sampleThrough } from './matchChart.js'
import { outlineQuad } from './outlineQuad.js'
import { boxTo, composeMaps, mapJacobian, type PlaneMap } from './planeMap.js'

/** A chart found in a still. */
export interface FoundChart {
  /** Modules to image coordinates of the still, px. */
  readonly map: PlaneMap
  /** Outer corners of the frame, clockwise from the chart's own top left, px. */
  readonly corners: Quad
  /** Pixels per module at the chart's middle: the geometric mean of both axes. */
  readonly pixelsPerModule: number
  /** The chart's face, 0..7, and whether it was read beyond doubt. */
  readonly face: number
  readonly faceSure: boolean
  /** Correlation of the match, 0..1, and the share of the chart that was in sight. */
  readonly correlation: number
  readonly kept: number
  /** The template's blur that agreed best, modules. */
  readonly sigmaModules: number
  /** Lowest correlation of one of the chart's parts. */
  readonly worstWindow: number
}

export type NoChart = 'no-chart' | 'two-charts' | 'mirrored-chart'

/** What can be set; all have defaults. */
export interface FindOptions {
  readonly leastCorrelation?: number
}

/** Template blurs, modules: for the first approach, for middling and near charts, and for soft and turned ones. */
const BLURS_MODULES = [0.7, 0.45, 0.25, 1]
const SAMPLE_STEP_MODULES = 0.4
/** A match at or over this correlation is a chart: impostors reach less, charts at the limits of finding more (measured). */
const LEAST_CORRELATION = 0.82
/** Below this many pixels to a module an outline is located but not to be trusted; at a coarse scale the next one is tried. */
const LEAST_PIXELS_PER_MODULE = 1
/**
 * How a picture is thresholded: half the window, px of the scale at hand (3 to 6 modules of the charts looked for there), and how far below its
 * mean dark begins, as a share of the noise where the picture was smoothed and where it was not, and at least, code values.
 */
interface Threshold {
  readonly radius: number
  readonly noisyShare: number
  readonly calmShare: number
  readonly leastDn: number
}

/** The first finds nearly all charts; the second is tried where nothing was found. */
const THRESHOLDS: readonly Threshold[] = [
  { radius: 4, noisyShare: 0.2, calmShare: 1, leastDn: 2 },
  { radius: 5, noisyShare: 0, calmShare: 0, leastDn: 0 },
]
/** Bounding boxes looked at, pixels of the scale at hand. */
const PIECE_LIMITS = { leastSide: 7, mostSide: 110 }
/** Coarsest scale: its shorter side is at least this, px. */
const COARSEST_SIDE = 48
/** Least correlation of an outline with the widest template, before any refinement. */
const FIRST_CORRELATION = 0.3

/**
 * Finds the printed chart in a still. Coarse to fine: at each scale dark pieces on light ground are outlined, tried as the chart's frame and
 * refined against templates; it stops at the scale where a chart is verified. Image coordinates: (0,0) is the outer corner of the
 * top-left pixel. Fails where there is none, where two are in view, and where it is seen in a mirror.
 */
export function findChart(image: GreyImage, options: FindOptions = {}): Outcome<FoundChart, NoChart> {
  const least = options.leastCorrelation ?? LEAST_CORRELATION
  const scales: GreyImage[] = [image]
  for (;;) {
    const last = scales[scales.length - 1]!
    if (Math.min(last.width, last.height) < 2 * COARSEST_SIDE) break
    scales.push(halveImage(last))
  }
  const sets = BLURS_MODULES.map((blur) => chartTemplates(blur, SAMPLE_STEP_MODULES))
  for (const threshold of THRESHOLDS) {
    for (let level = scales.length - 1; level >= 0; level -= 1) {
      const found = distinct(
        frameCandidates(scales[level]!, sets, least - CANDIDATE_SLACK, threshold)
          .map((match) => verified(scales[level]!, image, match, level, sets, least))
          .filter((chart) => chart !== null),
      )
      if (found.length > 0) return theOnly(found)
    }
  }
  for (const trim of [undefined, TRIM]) {
    for (let level = scales.length - 1; level >= 1; level -= 1) {
      const found = distinct(
        seededCandidates(scales[level]!, scales[level - 1]!, sets, least - CANDIDATE_SLACK, trim)
          .map((match) => verified(scales[level - 1]!, image, match, level - 1, sets, least))
          .filter((chart) => chart !== null),
      )
      if (found.length > 0) return theOnly(found)
    }
  }
  return failure('no-chart', 'no chart was found in this still')
}

/** Noise variance of a bilinear sample: 4/9 of a pixel's, the mean over all places between four pixels. */
function sampleNoise(noiseDn: number): number {
  return (4 / 9) * noiseDn ** 2
}

/** Over this noise the picture is smoothed before it is thresholded, code values. */
const MOST_NOISE_DN = 3.5

function theOnly(found: readonly FoundChart[]): Outcome<FoundChart, NoChart> {
  if (found.length > 1) return failure('two-charts', 'two charts are in view, so neither is measured')
  return success(found[0]!)
}

const SEED_CORRELATION = 0.42
const MOST_SEEDS = 60
const SEED_ROLLS_RAD = [0, -0.2, 0.2]
const TRIM = 3.5

/** Charts that box seeds of a coarse picture lead to in the picture of twice its size; with `trim`, partly covered ones. */
function seededCandidates(
  coarse: GreyImage,
  image: GreyImage,
  sets: readonly TemplateSet[],
  least: number,
  trim: number | undefined,
): MatchedChart[] {
  const matches: MatchedChart[] = []
  const wide = sets[0]!.common
  const samples = new Float64Array(wide.count)
  for (const seed of boxSeeds(coarse, SEED_CORRELATION, MOST_SEEDS)) {
    let best: { map: PlaneMap; correlation: number } | null = null
    for (const roll of SEED_ROLLS_RAD) {
      const [cos, sin] = [Math.cos(roll), Math.sin(roll)]
      const [a, d] = [2 * seed.acrossPxPerModule, 2 * seed.downPxPerModule]
      const map = Float64Array.of(
        a * cos,
        -d * sin,
        2 * seed.x - 7 * a * cos + 5 * d * sin,
        a * sin,
        d * cos,
        2 * seed.y - 7 * a * sin - 5 * d * cos,
        0,
        0,
        1,
      )
      sampleThrough(image, map, wide, samples)
      const { correlation } = agreement(samples, wide)
      if (best === null || correlation > best.correlation) best = { map, correlation }
    }
    if (best!.correlation < FIRST_CORRELATION) continue
    const match = followCandidate(
      image,
      best!.map,
      sets,
      trim === undefined ? least : 0.9,
      sampleNoise(noiseScale(image)),
      trim,
    )
    if (match !== null) matches.push(match)
  }
  return matches
}

/** Charts among the dark pieces of one scale. */
function frameCandidates(
  image: GreyImage,
  sets: readonly TemplateSet[],
  least: number,
  threshold: Threshold,
): MatchedChart[] {
  const noise = noiseScale(image)
  const calm = noise > MOST_NOISE_DN ? smoothImage(image) : image
  const offset =
    noise > MOST_NOISE_DN
      ? threshold.noisyShare * noise
      : Math.max(threshold.leastDn, threshold.calmShare * noise)
  const outlines = darkPieceOutlines(darkRuns(calm, threshold.radius, offset), PIECE_LIMITS)
  const wide = sets[0]!.common
  const samples = new Float64Array(wide.count)
  const matches: MatchedChart[] = []
  for (const outline of outlines) {
    const quad = outlineQuad(outline)
    if (quad === null) continue
    let best: { map: PlaneMap; correlation: number } | null = null
    for (let turn = 0; turn < 4; turn += 1) {
      const turned = [0, 1, 2, 3].map((k) => quad[(k + turn) % 4]!) as unknown as Quad
      const map = boxTo(FRAME, turned)
      if (!map.every(Number.isFinite)) continue
      sampleThrough(image, map, wide, samples)
      const { correlation } = agreement(samples, wide)
      if (best === null || correlation > best.correlation) best = { map, correlation }
    }
    if (best === null || best.correlation < FIRST_CORRELATION) continue
    const match = followCandidate(image, best.map, sets, least, sampleNoise(noise))
    if (match !== null) matches.push(match)
  }
  return matches
}

/**
 * A match carried to the still's own pixels and verified there: a small chart by the fit of the whole model, whose outline then counts, every
 * chart by the correlation of the whole and of its parts. Null where it is none, or too small at this scale to be told.
 */
function verified(
  image: GreyImage,
  full: GreyImage,
  match: MatchedChart,
  level: number,
  sets: readonly TemplateSet[],
  least: number,
): FoundChart | null {
  const scale = 2 ** level
  let map = composeMaps(Float64Array.of(scale, 0, 0, 0, scale, 0, 0, 0, 1), match.map)
  let face = match.face
  if (pixelsPerModule(map) < LEAST_PIXELS_PER_MODULE * scale) return null
  const blur = 4 * Math.PI * match.sigmaModules ** 2 + (scale / pixelsPerModule(map)) ** 2
  let evidence = ((FIELD.width * FIELD.height) / blur / 2) * Math.log(match.faceRatio)
  if (pixelsPerModule(map) < FITTED_BELOW) {
    const fit = fitSmall(full, map, face)
    if (fit === null) return null
    map = fit.map
    face = fit.face
    evidence = fit.evidence
    if (pixelsPerModule(map) < LEAST_PIXELS_PER_MODULE * scale) return null
  }
  const shrunk = composeMaps(Float64Array.of(1 / scale, 0, 0, 0, 1 / scale, 0, 0, 0, 1), map)
  const noiseVariance = sampleNoise(noiseScale(image))
  const samples = new Float64Array(match.template.count)
  sampleThrough(image, shrunk, match.template, samples)
  let best: { template: ChartTemplate; sigma: number; correlation: number; kept: number } | null = null
  for (const set of sets) {
    const template = set.face(face)
    const fits = agreement(samples, template, match.mask, noiseVariance)
    if (best === null || fits.correlation > best.correlation)
      best = { template, sigma: set.sigmaModules, ...fits }
  }
  if (best!.correlation < least || !plausibleFrame(frameCorners(map))) return null
  const structure = chartStructure(samples, best!.template, match.mask, noiseVariance)
  if (!structure.holds) return null
  return {
    map,
    corners: frameCorners(map),
    pixelsPerModule: pixelsPerModule(map),
    face,
    faceSure: evidence > FACE_EVIDENCE,
    correlation: best!.correlation,
    kept: best!.kept,
    sigmaModules: best!.sigma,
    worstWindow: structure.worst,
  }
}

/** The whole-model fit of a small chart, with the face that leaves the least residuals; null where it fails or runs off. */
function fitSmall(
  image: GreyImage,
  start: PlaneMap,
  firstFace: number,
): { map: PlaneMap; face: number; evidence: number } | null {
  let face = firstFace
  for (let round = 0; round < 2; round += 1) {
    const fit = fitChart(image, start, { face })
    if (!fit.ok) return null
    const module = pixelsPerModule(start)
    const moved = frameCorners(start).map((corner, k) =>
      Math.hypot(corner[0] - fit.value.corners[k]![0], corner[1] - fit.value.corners[k]![1]),
    )
    if (Math.max(...moved) > MOST_FIT_MOVE_MODULES * module) return null
    const ranked = fit.value.faceSums.map((sum, index) => ({ sum, index })).sort((a, b) => a.sum - b.sum)
    const evidence = (fit.value.pixels / 4) * Math.log(ranked[1]!.sum / ranked[0]!.sum)
    if (ranked[0]!.index === face) return { map: fit.value.map, face, evidence }
    face = ranked[0]!.index
  }
  return null
}

function pixelsPerModule(map: PlaneMap): number {
  const [a, b, c, d] = mapJacobian(map, FIELD.width / 2, FIELD.height / 2)
  return Math.sqrt(Math.abs(a * d - b * c))
}

/** Charts under so many pixels to a module are verified by the fit of the whole model. */
const FITTED_BELOW = 4
/** A fit that carries a corner farther than this has run off. */
const MOST_FIT_MOVE_MODULES = 1.2
/** A candidate goes to verification from this far below the correlation a chart must have. */
const CANDIDATE_SLACK = 0.1

/** Log-likelihood by which the best face must beat the second: odds of about 400 to 1. */
const FACE_EVIDENCE = 6

/** Charts whose middles lie apart; of several matches on one chart the best. */
function distinct(charts: readonly FoundChart[]): FoundChart[] {
  const kept: FoundChart[] = []
  for (const chart of [...charts].sort((a, b) => b.correlation - a.correlation)) {
    const [x, y] = middle(chart)
    const near = kept.some((other) => {
      const [u, v] = middle(other)
      return Math.hypot(x - u, y - v) < 5 * Math.max(other.pixelsPerModule, chart.pixelsPerModule)
    })
    if (!near) kept.push(chart)
  }
  return kept
}

function middle(chart: FoundChart): readonly [number, number] {
  const x = chart.corners.reduce((sum, corner) => sum + corner[0], 0) / 4
  const y = chart.corners.reduce((sum, corner) => sum + corner[1], 0) / 4
  return [x, y]
}
