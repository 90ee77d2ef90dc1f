import type { Homography } from '../../math/homography.js'
import type { ByteImage } from '../../still/searchBytes.js'
import { followCandidate, LEAST_CANDIDATE, type MatchedChart } from '../match/chartCandidate.js'
import { agreement, matchRoom, sampleThrough } from '../match/matchChart.js'
import { searchTemplates } from '../match/searchTemplates.js'
import { boxSeeds, type BoxSeed } from './boxSeeds.js'
import type { SearchScale } from './searchScale.js'

/** Least correlation of a seed's boxes, and how many seeds of a scale are followed. */
const SEED_CORRELATION = 0.42
const MOST_SEEDS = 24
/** Covered charts are looked for from the few best seeds only. */
const MOST_TRIMMED_SEEDS = 8
/** Least correlation of a seed with the widest template, before any refinement. */
const FIRST_CORRELATION = 0.4
/** Rolls a seed is tried at, rad. */
const SEED_ROLLS_RAD = [0, -0.2, 0.2]
/** A chart found with parts of it left out must agree better on what is left. */
const TRIMMED_CORRELATION = 0.9

/** The places of a coarse picture that are followed in the one of twice its size. */
export function chartSeeds(coarse: ByteImage): BoxSeed[] {
  return boxSeeds(coarse, SEED_CORRELATION, MOST_SEEDS)
}

/** Charts that seeds of the scale of half its size lead to; with `trim`, partly covered ones, from the few best seeds. */
export function seededCandidates(
  scale: SearchScale,
  seeds: readonly BoxSeed[],
  trim: number | undefined,
): MatchedChart[] {
  const { image } = scale
  const { glance, sets } = searchTemplates()
  const matches: MatchedChart[] = []
  const room = matchRoom(sets[0]!.common.count)
  const { samples } = room
  for (const seed of trim === undefined ? seeds : seeds.slice(0, MOST_TRIMMED_SEEDS)) {
    let best: { map: Homography; correlation: number } | null = null
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
      sampleThrough(image, map, glance, samples)
      const { correlation } = agreement(samples, glance, undefined, scale.sampleVariance)
      if (best === null || correlation > best.correlation) best = { map, correlation }
    }
    if (best!.correlation < FIRST_CORRELATION) continue
    const match = followCandidate(
      image,
      best!.map,
      trim === undefined ? LEAST_CANDIDATE : TRIMMED_CORRELATION,
      scale.sampleVariance,
      room,
      trim,
    )
    if (match !== null) matches.push(match)
  }
  return matches
}
