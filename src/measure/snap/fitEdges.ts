import { failure, success, type Outcome } from '../../math/outcome.js'
import type { EdgeProfile } from '../edge/edgeProfile.js'
import type { EdgeAperture } from '../edge/edgeResponse.js'
import { linearFromCode } from '../../math/srgb.js'
import { fitSteps, stepsCode, type StepsFit, type StepsModel } from './stepsModel.js'
import { measureSays } from '../sentences.js'

/** A profile fitted by so many edges as it shows, and which of them is the one at its middle. */
export interface FittedEdges extends StepsFit {
  readonly edge: number
}

const MOST_EDGES = 4
/** One more edge must explain this much of what is left, and leave it worth explaining: code values squared a pixel. */
const WORTH_SHARE = 0.5
const GOOD_ENOUGH = 1.6
/** So many places are tried for it. */
const MOST_TRIED = 4
/** Edges this far apart are fitted without each other, from this far before the next one, px. */
const APART_PX = 2.6
const CLEAR_PX = 1.6

/**
 * Fits a profile whose edge lies near 0 with the step's sign `sign` (outside less inside), together with the edges `besides` it (px from it) that fall into the
 * profile, and where `more` may be looked for those the residuals ask for: a border inside an outline pulls the outline's own edge inward unless it is fitted too.
 */
export function fitEdges(
  profile: EdgeProfile,
  besides: readonly number[],
  sign: number,
  aperture: EdgeAperture,
  more: boolean,
): Outcome<FittedEdges> {
  const inner = resolvedFrom(
    besides.filter((place) => place < 0).map((place) => -place),
    profile.reachPx,
  )
  const outer = resolvedFrom(
    besides.filter((place) => place > 0),
    profile.reachPx,
  )
  const window = [-inner.endPx, outer.endPx] as const
  const places = [...inner.places.map((place) => -place), 0, ...outer.places].sort(
    (one, other) => one - other,
  )
  let best = fitFrom(profile, places, 1, aperture, sign, window)
  if (places.length > 1)
    best = better(best, fitFrom(profile, [0], 1, aperture, sign, window), noiseOf(profile))
  for (;;) {
    if (!more || !best.ok || best.value.model.edgesPx.length >= MOST_EDGES) return best
    const noise = noiseOf(profile)
    const { squares, bins, model } = best.value
    if (squares / Math.max(1, bins - 2 * model.edgesPx.length - 2) < GOOD_ENOUGH * noise) return best
    const tried = extraPlaces(profile, best.value.model, aperture, [window[0] + 0.75, window[1] - 0.75]).map(
      (place) =>
        fitFrom(
          profile,
          [...model.edgesPx, place].sort((a, b) => a - b),
          model.sigmaPx,
          aperture,
          sign,
          window,
        ),
    )
    const next = tried.reduce((one, other) => (squaresOf(other) < squaresOf(one) ? other : one))
    if (squaresOf(next) > WORTH_SHARE * squares) return best
    best = next
  }
}

function squaresOf(fit: Outcome<FittedEdges>): number {
  return fit.ok ? fit.value.squares : Infinity
}

/** The other edges to one side that are fitted too, and where the profile is cut off before the next one, px. */
function resolvedFrom(
  away: readonly number[],
  reachPx: number,
): { readonly places: readonly number[]; readonly endPx: number } {
  const places: number[] = []
  for (const place of [...away].sort((one, other) => one - other)) {
    const before = places.at(-1)
    const isNext = places.length === 2 || (before !== undefined && place - before >= APART_PX)
    if (isNext || place > reachPx - CLEAR_PX) return { places, endPx: Math.min(reachPx, place - CLEAR_PX) }
    places.push(place)
  }
  return { places, endPx: reachPx }
}

/** Of a fuller and a barer fit the barer one, unless the fuller one leaves much less. */
function better(full: Outcome<FittedEdges>, bare: Outcome<FittedEdges>, noise: number): Outcome<FittedEdges> {
  if (!full.ok || !bare.ok) return full.ok ? full : bare
  const barely = bare.value.squares / bare.value.bins < GOOD_ENOUGH * noise
  return barely || full.value.squares > WORTH_SHARE * bare.value.squares ? bare : full
}

/** Variance of a pixel, code values squared, where the profile scatters least: its quieter bins. */
export function noiseOf(profile: EdgeProfile): number {
  const variances: number[] = []
  for (let bin = 0; bin < profile.count.length; bin += 1) {
    const count = profile.count[bin]!
    if (count < 4) continue
    const mean = profile.codeSum[bin]! / count
    variances.push(((profile.codeSquareSum[bin]! / count - mean * mean) * count) / (count - 1))
  }
  variances.sort((a, b) => a - b)
  return Math.max(0.3, variances[variances.length >> 2] ?? 0.3)
}

/** Places for one more edge: where the model leaves most, a few, apart from each other and from the edges there are. */
function extraPlaces(
  profile: EdgeProfile,
  model: StepsModel,
  aperture: EdgeAperture,
  [fromPx, toPx]: readonly [number, number],
): readonly number[] {
  const code = stepsCode(model, aperture)
  const left = [...profile.count.keys()].flatMap((bin) => {
    const count = profile.count[bin]!
    const at = profile.acrossSum[bin]! / count
    if (!(count > 0 && at > fromPx && at < toPx)) return []
    return [{ at, weight: count * (code(at) - profile.codeSum[bin]! / count) ** 2 }]
  })
  left.sort((a, b) => b.weight - a.weight)
  const places: number[] = []
  for (const { at } of left) {
    const near = [...model.edgesPx, ...places].some((place) => Math.abs(place - at) < 0.7)
    if (!near && places.length < MOST_TRIED) places.push(at)
  }
  return places
}

function fitFrom(
  profile: EdgeProfile,
  places: readonly number[],
  sigmaPx: number,
  aperture: EdgeAperture,
  sign: number,
  [fromPx, toPx]: readonly [number, number],
): Outcome<FittedEdges> {
  const bounds = [fromPx, ...places, toPx]
  const levels = bounds.slice(1).map((to, i) => levelBetween(profile, bounds[i]!, to))
  const fit = fitSteps(profile, { levels, edgesPx: places, sigmaPx }, aperture, fromPx, toPx)
  if (!fit.ok) return fit
  const { edgesPx, levels: fitted, sigmaPx: blur } = fit.value.model
  const inOrder = edgesPx.every((edge, i) => i === 0 || edge - edgesPx[i - 1]! > 0.2)
  const within = edgesPx.every((edge) => edge > fromPx + 0.3 && edge < toPx - 0.3)
  if (!inOrder || !within || !(blur < 4)) {
    return failure(measureSays['edges-run-together']())
  }
  const own = edgesPx
    .map((edge, i) => ({ i, away: Math.abs(edge), sign: Math.sign(fitted[i + 1]! - fitted[i]!) }))
    .filter((one) => one.sign === sign && one.away < 1.5)
    .sort((a, b) => a.away - b.away)[0]
  if (own === undefined) return failure(measureSays['edge-gone']())
  return success({ ...fit.value, edge: own.i })
}

/** The middle half's mean code of what lies between two places, as linear light. */
function levelBetween(profile: EdgeProfile, from: number, to: number): number {
  const quarter = (to - from) / 4
  let [count, sum] = [0, 0]
  for (let bin = 0; bin < profile.count.length; bin += 1) {
    const own = profile.count[bin]!
    const at = profile.acrossSum[bin]! / own
    if (!(own > 0 && at >= from + quarter && at <= to - quarter)) continue
    count += own
    sum += profile.codeSum[bin]!
  }
  return Math.max(1e-4, linearFromCode(count > 0 ? sum / count : 128))
}
