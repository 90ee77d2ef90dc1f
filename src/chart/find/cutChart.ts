import type { ByteImage } from '../../still/searchBytes.js'
import { frameCorners, plausibleFrame, type MatchedChart } from '../match/chartCandidate.js'
import { FACES } from '../printed/chartGeometry.js'
import { chartStructure } from '../match/chartStructure.js'
import type { ChartTemplate, TemplateSet } from '../match/template.js'
import { edgeSeeds } from './cutChartSeeds.js'
import { likeliestStart } from './cutChartStart.js'
import { matchRoom, refineMatch, sampleThrough, type MatchRoom } from '../match/matchChart.js'
import type { Homography } from '../../math/homography.js'
import type { SearchScale } from './searchScale.js'
import { searchTemplates } from '../match/searchTemplates.js'
import { pixelsPerModule } from './smallChart.js'
import { partInside, seenCorrelation } from '../match/templatePart.js'

/** Places of a scale that are looked at, and those of them that are followed, the likeliest first. */
const MOST_SEEDS = 50
const MOST_STARTS = 8
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
export function isCutOff(map: Homography, { width, height }: Pick<ByteImage, 'width' | 'height'>): boolean {
  return frameCorners(map).some(([x, y]) => x < 0 || y < 0 || x > width || y > height)
}

function followStart(
  { image, sampleVariance }: SearchScale,
  start: Homography,
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

function refined(
  image: ByteImage,
  start: Homography,
  template: ChartTemplate,
  affine: boolean,
  room: MatchRoom,
): Homography | null {
  const part = partInside(template, start, image)
  if (part === null) return null
  const map = refineMatch(image, start, part, { steps: STEPS, affine }, room)?.map
  return map !== undefined && plausibleFrame(frameCorners(map)) ? map : null
}

/** Templates by how well they agree with what of them lies in the picture, the best first. */
function ranked(
  image: ByteImage,
  map: Homography,
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
