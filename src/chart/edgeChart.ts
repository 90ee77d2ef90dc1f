import type { ByteImage } from '../still/searchBytes.js'
import type { BoxSeed } from './boxSeeds.js'
import { frameCorners, plausibleFrame, type MatchedChart } from './chartCandidate.js'
import { FACES, FIELD } from './chartGeometry.js'
import { chartStructure } from './chartStructure.js'
import type { ChartTemplate, TemplateSet } from './chartTemplate.js'
import { edgeSeeds } from './edgeSeeds.js'
import { matchRoom, refineMatch, sampleThrough, withoutNoise, type MatchRoom } from './matchChart.js'
import { mapPoint, type PlaneMap } from './planeMap.js'
import type { SearchScale } from './searchScale.js'
import { searchTemplates } from './searchTemplates.js'
import { pixelsPerModule } from './smallChart.js'
import { templateSolver, type TemplateSolver } from './templateSolver.js'

/** Places of a scale that are looked at, and those of them that are followed, the likeliest first. */
const MOST_SEEDS = 90
const MOST_STARTS = 12
/** What is tried about a seed: rolls, rad, places off it, modules, and a larger chart. */
const SEED_ROLLS_RAD = [-0.24, -0.12, 0, 0.12, 0.24]
const SEED_OFFSETS_MODULES = [
  [-1, 0],
  [1, 0],
  [0, -1],
  [0, 1],
] as const
const LARGER = 1.25
const MIDDLE = [FIELD.width / 2, FIELD.height / 2] as const
const STEPS = 9
// This project's convention, from trials: what is seen of charts cut by up to a half in simulated stills correlates by 0.5, 0.72 (nearly all) and 0.94 or more on the
// way and 0.968 at the end, its least window 0.947; the likeliest impostors among real pictures reached 0.9 in a window.
const FIRST_CORRELATION = 0.45
const COMMON_CORRELATION = 0.72
const FACE_CORRELATION = 0.88
const LEAST_CORRELATION = 0.95
const LEAST_WINDOW = 0.92
const LEAST_JUDGED = 2
const LEAST_PIXELS_PER_MODULE = 1.2
/** So much of the template must be in the picture. */
const LEAST_SEEN = 0.42

/**
 * A chart across the picture's edge: what the edge leaves of it is matched with that part of the template, from seeds in the scale of half the size. Its frame
 * may lie wholly in the picture (`isCutOff`). Null where there is none.
 */
export function edgeChart(scale: SearchScale, coarse: ByteImage, isCoarsest: boolean): MatchedChart | null {
  const room = matchRoom(searchTemplates().sets[0]!.common.count)
  const starts = edgeSeeds(coarse, MOST_SEEDS, isCoarsest)
    .map((seed) => likeliestStart(scale, seed, room))
    .filter(({ correlation }) => correlation >= FIRST_CORRELATION)
    .sort((a, b) => b.correlation - a.correlation)
  for (const { map } of starts.slice(0, MOST_STARTS)) {
    const chart = followStart(scale, map, room)
    if (chart !== null) return chart
  }
  return null
}

/** Whether a corner of the frame under a map lies outside the picture. */
export function isCutOff(map: PlaneMap, { width, height }: Pick<ByteImage, 'width' | 'height'>): boolean {
  return frameCorners(map).some(([x, y]) => x < 0 || y < 0 || x > width || y > height)
}

function followStart(
  { image, sampleVariance }: SearchScale,
  start: PlaneMap,
  room: MatchRoom,
): MatchedChart | null {
  const { glance, sets } = searchTemplates()
  const leading = sets.filter(({ sigmaModules }) => sigmaModules <= sets[0]!.sigmaModules)
  const common = leading.map((set): Drawn => ({ set, template: set.common, face: 0 }))
  const approached = refined(image, start, glance, true, room)
  if (approached === null) return null
  const [wide] = ranked(image, approached, common, room, sampleVariance)
  if (wide!.correlation < COMMON_CORRELATION) return null
  const near = refined(image, approached, wide!.template, false, room)
  if (near === null) return null
  const [face] = ranked(image, near, everyFace(leading), room, sampleVariance)
  if (face!.correlation < FACE_CORRELATION) return null
  const map = refined(image, near, face!.template, false, room)
  if (map === null || pixelsPerModule(map) < LEAST_PIXELS_PER_MODULE) return null
  const [best, ...others] = ranked(image, map, everyFace(sets), room, 0)
  if (best!.correlation < LEAST_CORRELATION) return null
  const { template, correlation, set, kept } = best!
  const mask = sets[0]!.common.everySample
  sampleThrough(image, map, template, room.samples)
  if (chartStructure(room.samples, template, mask, 0, LEAST_JUDGED).worst < LEAST_WINDOW) return null
  const second = others.find((other) => other.face !== best!.face)!
  const faceRatio = (1.02 - second.correlation ** 2) / (1.02 - correlation ** 2)
  return {
    map,
    face: best!.face,
    correlation,
    kept,
    sigmaModules: set.sigmaModules,
    faceRatio,
    template,
    mask,
  }
}

/** A template, of which set and face. */
interface Drawn {
  readonly set: TemplateSet
  readonly template: ChartTemplate
  readonly face: number
}

function everyFace(sets: readonly TemplateSet[]): Drawn[] {
  return sets.flatMap((set) =>
    Array.from({ length: FACES }, (_, face) => ({ set, template: set.face(face), face })),
  )
}

/** The likeliest start about a seed: rolled, larger and a module off. */
function likeliestStart(
  { image, sampleVariance }: SearchScale,
  seed: BoxSeed,
  { samples }: MatchRoom,
): { readonly map: PlaneMap; readonly correlation: number } {
  const { glance } = searchTemplates()
  let best = { map: new Float64Array(9), correlation: -1, roll: 0, offX: 0, offY: 0 }
  const look = (size: number, roll: number, offX: number, offY: number): void => {
    const [cos, sin] = [Math.cos(roll), Math.sin(roll)]
    const [a, d] = [2 * size * seed.acrossPxPerModule, 2 * size * seed.downPxPerModule]
    const [x, y] = [2 * seed.x + offX * a, 2 * seed.y + offY * d]
    const map = Float64Array.of(
      a * cos,
      -d * sin,
      x - MIDDLE[0] * a * cos + MIDDLE[1] * d * sin,
      a * sin,
      d * cos,
      y - MIDDLE[0] * a * sin - MIDDLE[1] * d * cos,
      0,
      0,
      1,
    )
    sampleThrough(image, map, glance, samples)
    const correlation = seenCorrelation(samples, glance, sampleVariance)
    if (correlation > best.correlation) best = { map, correlation, roll, offX, offY }
  }
  for (const roll of SEED_ROLLS_RAD) look(1, roll, 0, 0)
  const { roll } = best
  for (const [offX, offY] of SEED_OFFSETS_MODULES) look(1, roll, offX, offY)
  const { offX, offY } = best
  look(LARGER, roll, offX, offY)
  return best
}

/** Correlation over the samples in the picture; 0 where they are too few. */
function seenCorrelation(
  samples: Float64Array,
  { count, value }: ChartTemplate,
  noiseVariance: number,
): number {
  let n = 0
  let [s, t, ss, st, tt] = [0, 0, 0, 0, 0]
  for (let at = 0; at < count; at += 1) {
    const a = samples[at]!
    if (Number.isNaN(a)) continue
    const b = value[at]!
    n += 1
    s += a
    t += b
    ss += a * a
    st += a * b
    tt += b * b
  }
  if (n < LEAST_SEEN * count) return 0
  const varianceS = ss - (s * s) / n
  const varianceT = tt - (t * t) / n
  if (!(varianceS > 0 && varianceT > 0)) return 0
  return (st - (s * t) / n) / Math.sqrt(withoutNoise(varianceS, n * noiseVariance) * varianceT)
}

function refined(
  image: ByteImage,
  start: PlaneMap,
  template: ChartTemplate,
  affine: boolean,
  room: MatchRoom,
): PlaneMap | null {
  const part = partInside(template, start, image)
  if (part === null) return null
  const map = refineMatch(image, start, part, { steps: STEPS, affine }, room)?.map
  return map !== undefined && plausibleFrame(frameCorners(map)) ? map : null
}

/** Templates by how well they agree with what of them lies in the picture, the best first. */
function ranked(
  image: ByteImage,
  map: PlaneMap,
  drawn: readonly Drawn[],
  { samples }: MatchRoom,
  noiseVariance: number,
): (Drawn & { readonly correlation: number; readonly kept: number })[] {
  sampleThrough(image, map, drawn[0]!.template, samples)
  const { count } = drawn[0]!.template
  const kept = samples.subarray(0, count).reduce((n, value) => (Number.isNaN(value) ? n : n + 1), 0) / count
  return drawn
    .map((one) => ({ ...one, kept, correlation: seenCorrelation(samples, one.template, noiseVariance) }))
    .sort((a, b) => b.correlation - a.correlation)
}

/** The part of a template that a map takes into the picture; null where that is too little. */
function partInside(
  template: ChartTemplate,
  map: PlaneMap,
  { width, height }: ByteImage,
): ChartTemplate | null {
  const kept: number[] = []
  for (let at = 0; at < template.count; at += 1) {
    const [x, y] = mapPoint(map, template.x[at]!, template.y[at]!)
    if (x >= 0.5 && y >= 0.5 && x < width - 0.5 && y < height - 0.5) kept.push(at)
  }
  if (kept.length < LEAST_SEEN * template.count) return null
  const pick = (values: Float64Array): Float64Array => Float64Array.from(kept, (at) => values[at]!)
  const points = {
    count: kept.length,
    x: pick(template.x),
    y: pick(template.y),
    value: pick(template.value),
    slopeX: pick(template.slopeX),
    slopeY: pick(template.slopeY),
  }
  const solvers: (TemplateSolver | undefined)[] = []
  return {
    ...points,
    columns: template.columns,
    rows: template.rows,
    everySample: new Uint8Array(kept.length).fill(1),
    solver: (affine) => (solvers[affine ? 1 : 0] ??= templateSolver(points, affine)),
  }
}
