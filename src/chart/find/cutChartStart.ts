import type { BoxSeed } from './boxSeeds.js'
import { FIELD } from '../printed/chartGeometry.js'
import { sampleThrough, type MatchRoom } from '../match/matchChart.js'
import type { Homography } from '../../math/homography.js'
import type { SearchScale } from './searchScale.js'
import { searchTemplates } from '../match/searchTemplates.js'
import { seenCorrelation } from '../match/templatePart.js'

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

/** The likeliest start about a seed: rolled, larger and a module off. */
export function likeliestStart(
  { image, sampleVariance }: SearchScale,
  seed: BoxSeed,
  { samples }: MatchRoom,
): { readonly map: Homography; readonly correlation: number } {
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
