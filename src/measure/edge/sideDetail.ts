import { failure, success, type Outcome } from '../../math/outcome.js'
import { edgeAtBins, type EdgeAtBins } from './edgeAtBins.js'
import { edgeModelCode, type EdgeModel } from './edgeModel.js'
import type { EdgeProfile } from './edgeProfile.js'
import type { EdgeSide } from './edgeSide.js'
import { frequencyAtModulation } from './gaussianPixelMtf.js'
import { haloSeen, type HaloSeen } from './haloSeen.js'
import { fitProfile } from './profileFit.js'
import type { EdgeFault } from './quietGround.js'
import { jackknifeU, sigmasWithoutOneSegment } from './segmentScatter.js'
import { codeFromLinear } from '../../math/srgb.js'
import { measureSays } from '../sentences.js'
import { toneLoad } from './toneLoad.js'

/** What one side's edge tells: f10 and f50 in cycles/px, the scatter of f10 between its segments, overshoot as a share of the step. */
export interface SideDetail {
  readonly f10: number
  readonly f50: number
  readonly sigmaPx: number
  /** Standard uncertainty of `f10` from the scatter between segments, and its degrees of freedom. */
  readonly f10Scatter: number
  readonly dof: number
  readonly overshoot: number
  /** The greatest departure of the mean profile from the model beyond its pixels' scatter, as a share of the step. */
  readonly misfit: number
  /** Relative change of `f10` per unit of ln exponent of the tone curve. */
  readonly toneLoad: number
  /** What the plain edge leaves of a sharpening's halo; null where it cannot be told. */
  readonly halo: HaloSeen | null
}

/** A halo is fitted from this overshoot on, and the model refused from this misfit on, shares of the step: this project's convention. */
const HALO_FROM_OVERSHOOT = 0.022
const MOST_MISFIT = 0.06
/** A swing that is this much greater on one side than on the other is no sharpening. */
const MOST_LOPSIDED = 0.03

/** A group of bins half a pixel wide: where it lies, its mean residual and two standard deviations of that by the pixels' scatter, shares of the step. */
interface ResidualGroup {
  readonly at: number
  readonly share: number
  readonly twoSigma: number
}

/** The pooled profile's mean residuals; groups with few pixels are left out. */
function residualGroups(pooled: EdgeProfile, edge: EdgeAtBins, stepCode: number): readonly ResidualGroup[] {
  const groups: ResidualGroup[] = []
  for (let bin = 0; bin + 2 <= pooled.count.length; bin += 2) {
    let count = 0
    let sum = 0
    let across = 0
    let squares = 0
    for (let k = bin; k <= bin + 1; k += 1) {
      const n = pooled.count[k]!
      if (n === 0) continue
      count += n
      sum += pooled.codeSum[k]! - n * edge.code[k]!
      across += pooled.acrossSum[k]!
      squares += pooled.codeSquareSum[k]! - pooled.codeSum[k]! ** 2 / n
    }
    if (count < 6) continue
    const twoSigma = (2 * Math.sqrt(Math.max(0, squares) / count / count)) / Math.abs(stepCode)
    groups.push({ at: across / count, share: sum / count / stepCode, twoSigma })
  }
  return groups
}

/** How far the profile swings beyond its levels near the edge, as a share of the step: the mean of its brim and its trough, from the plain model's residuals. */
function plainOvershoot(
  side: EdgeSide,
  shares: readonly ResidualGroup[],
): { readonly share: number; readonly lopsided: number } {
  const foot = 3 * side.model.sigmaPx + 2
  const near = shares.filter(({ at }) => Math.abs(at - side.model.acrossPx) < foot)
  const beyond = near.filter(({ at }) => at > side.model.acrossPx).map(({ share }) => share)
  const before = near.filter(({ at }) => at < side.model.acrossPx).map(({ share }) => -share)
  if (beyond.length === 0 || before.length === 0) return { share: 0, lopsided: 0 }
  const [brim, trough] = [Math.max(...beyond), Math.max(...before)]
  return { share: Math.max(0, (brim + trough) / 2), lopsided: Math.abs(brim - trough) }
}

/** The overshoot of a model with a halo: how far it goes beyond its outside level, a share of the step in code values. */
function modelOvershoot(model: EdgeModel, side: EdgeSide): number {
  const code = edgeModelCode(model, side.aperture)
  const [inside, outside] = [codeFromLinear(model.inside), codeFromLinear(model.outside)]
  let most = 0
  const reach = 4 * (model.sigmaPx + model.haloRadiusPx)
  for (let step = 0; step <= 40; step += 1) {
    const at = model.acrossPx + (reach * step) / 40
    most = Math.max(most, (code(at) - outside) / (outside - inside))
    most = Math.max(most, (inside - code(2 * model.acrossPx - at)) / (outside - inside))
  }
  return most
}

/**
 * Blur and overshoot of one side. Where the edge overshoots, a halo is fitted along, so that f10 is that of the blur beneath it.
 * Fails with `detail-halo` where the profile departs from any such edge.
 */
export function sideDetail(side: EdgeSide): Outcome<SideDetail, EdgeFault> {
  const stepCode = codeFromLinear(side.model.outside) - codeFromLinear(side.model.inside)
  let model = side.model
  let edge = side.fitted
  let groups = residualGroups(side.pooled, edge, stepCode)
  const plain = plainOvershoot(side, groups)
  if (plain.lopsided > MOST_LOPSIDED) {
    return failure(measureSays['detail-halo-on-one-side']())
  }
  let overshoot = plain.share
  if (overshoot > HALO_FROM_OVERSHOOT) {
    const start: EdgeModel = {
      ...model,
      sigmaPx: model.sigmaPx * 1.3,
      halo: 3 * overshoot,
      haloRadiusPx: 1.5 * model.sigmaPx + 0.7,
    }
    const fit = fitProfile(side.pooled, start, side.aperture, 'edge and halo')
    if (fit.ok) {
      model = fit.value.model
      edge = edgeAtBins(side.pooled, model, side.aperture)
      groups = residualGroups(side.pooled, edge, stepCode)
      overshoot = modelOvershoot(model, side)
    }
  }
  const misfit = Math.max(0, ...groups.map(({ share, twoSigma }) => Math.abs(share) - twoSigma))
  if (misfit > MOST_MISFIT) {
    return failure(measureSays['detail-halo'](misfit))
  }
  const f10 = frequencyAtModulation(0.1, model.sigmaPx)
  const without = sigmasWithoutOneSegment(side.segments, edge, model.sigmaPx, model !== side.model)
    .filter((sigmaPx) => Number.isFinite(sigmaPx))
    .map((sigmaPx) => frequencyAtModulation(0.1, sigmaPx))
  if (without.length < 3) return failure(measureSays['detail-no-blur']())
  return success({
    f10,
    f50: frequencyAtModulation(0.5, model.sigmaPx),
    sigmaPx: model.sigmaPx,
    f10Scatter: jackknifeU(without),
    dof: without.length - 1,
    overshoot,
    misfit,
    toneLoad: toneLoad('fit', model.inside, model.outside),
    halo: haloSeen(side),
  })
}
