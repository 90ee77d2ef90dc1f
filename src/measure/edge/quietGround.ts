import { failure } from '../../math/outcome.js'
import type { EdgeModel } from './edgeModel.js'
import { BINS_PER_PX, type EdgeProfile } from './edgeProfile.js'
import { codeFromLinear } from '../../math/srgb.js'
import { measureSays } from '../sentences.js'

/** Why a side tells no detail. */
export type EdgeFault =
  | 'detail-too-small'
  | 'detail-no-contrast'
  | 'detail-no-quiet-ground'
  | 'detail-clipped'
  | 'detail-halo'
  | 'detail-no-fit'

/** Least step across an edge that is used, code values, and in standard deviations of a pixel's noise: this project's convention. */
const LEAST_STEP_CODE = 12
const LEAST_STEP_NOISE = 3
/** Ground is quiet where its pixels scatter by no more than this many times their side's quietest segment's scatter and this share of the step together. */
const QUIET_NOISE_TIMES = 1.8
const QUIET_STEP_SHARE = 0.04
/** Levels beyond these are taken for clipped, code values. */
const CLIPPED_BRIGHT_CODE = 250
const CLIPPED_DIM_CODE = 4

interface Ground {
  readonly count: number
  readonly mean: number
  readonly deviation: number
}

/** The ground beyond the blur's foot, inside (`direction` -1) or outside (+1). */
function groundOf(profile: EdgeProfile, sigmaPx: number, direction: -1 | 1): Ground {
  const bins = profile.count.length
  const foot = Math.min(profile.reachPx - 2, 2.2 * sigmaPx + 0.7)
  const first = Math.ceil((profile.reachPx + foot) * BINS_PER_PX)
  let [count, sum, squares] = [0, 0, 0]
  for (let k = first; k < bins; k += 1) {
    const bin = direction > 0 ? k : bins - 1 - k
    count += profile.count[bin]!
    sum += profile.codeSum[bin]!
    squares += profile.codeSquareSum[bin]!
  }
  const mean = sum / count
  return { count, mean, deviation: Math.sqrt(Math.max(0, squares / count - mean * mean)) }
}

/** Photon noise through the tone curve leaves dark ground up to so many times as noisy as bright (2.4 between near black and near white), and all its segments alike: this project's convention. */
const NOISIER_SIDE_TIMES = 2.6
const ALIKE_TIMES = 1.4

/**
 * Indices of the segments that have even ground on both sides. Ground whose segments are all alike is held against its own quietest, as far as photon noise may set it apart from
 * the other side's; else against the quietest of both.
 */
export function quietSegments(profiles: readonly EdgeProfile[], model: EdgeModel): readonly number[] {
  const step = Math.abs(codeFromLinear(model.outside) - codeFromLinear(model.inside))
  const sides = ([-1, 1] as const).map((direction) =>
    profiles.map((profile) => groundOf(profile, model.sigmaPx, direction)),
  )
  const inOrder = (grounds: readonly Ground[]): number[] =>
    grounds
      .filter(({ count }) => count >= 8)
      .map(({ deviation }) => deviation)
      .sort((a, b) => a - b)
  const both = inOrder(sides.flat())
  const quietest = Math.max(0.3, both[both.length >> 2] ?? 0)
  const isQuiet = sides.map((grounds) => {
    const own = inOrder(grounds)
    const [quarter, threeQuarters] = [own[own.length >> 2] ?? 0, own[(3 * own.length) >> 2] ?? 0]
    const isAlike =
      threeQuarters < ALIKE_TIMES * quarter &&
      quarter < Math.min(NOISIER_SIDE_TIMES * quietest, step / LEAST_STEP_NOISE / QUIET_NOISE_TIMES)
    const noise = isAlike ? Math.max(quarter, quietest) : quietest
    const allowed = Math.hypot(QUIET_NOISE_TIMES * noise, QUIET_STEP_SHARE * step)
    return grounds.map(({ count, deviation }) => count >= 8 && deviation <= allowed)
  })
  return [...profiles.keys()].filter((index) => isQuiet.every((side) => side[index]))
}

/** Why the pooled profile of a side's quiet segments is not used, or null. */
export function profileFault(
  pooled: EdgeProfile,
  model: EdgeModel,
  quiet: number,
  segments: number,
): ReturnType<typeof failure<EdgeFault>> | null {
  if (quiet < 3 || 2 * quiet < segments) {
    return failure(measureSays['detail-no-quiet-ground']())
  }
  const inside = groundOf(pooled, model.sigmaPx, -1)
  const outside = groundOf(pooled, model.sigmaPx, 1)
  const step = Math.abs(outside.mean - inside.mean)
  if (step < Math.max(LEAST_STEP_CODE, LEAST_STEP_NOISE * Math.min(inside.deviation, outside.deviation))) {
    return failure(measureSays['detail-no-contrast']())
  }
  // Noise that reaches the end of the scale is clipped too, and bends the foot of the edge.
  const brightest = inside.mean > outside.mean ? inside : outside
  const dimmest = inside.mean > outside.mean ? outside : inside
  if (
    brightest.mean + 2 * brightest.deviation > CLIPPED_BRIGHT_CODE + 4 ||
    brightest.mean > CLIPPED_BRIGHT_CODE ||
    dimmest.mean - 2 * dimmest.deviation < 0 ||
    dimmest.mean < CLIPPED_DIM_CODE
  ) {
    return failure(measureSays['detail-clipped']())
  }
  return null
}
