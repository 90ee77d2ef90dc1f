import { pOfCubic } from '../lens/cubicBend.js'
import { failure, success, type Outcome } from '../math/outcome.js'
import type { Point } from '../math/point.js'
import { chi2Quantile } from '../math/quantiles.js'
import { rectangleAxes } from './rectangleAxes.js'
import { lensAt, lensBlock, type LensBlock, type Stand } from './lensBlock.js'
import { lensDescent, type LensProblem, type SettledLens } from './lensDescent.js'
import type { LensStill } from './lensStill.js'
import { CENTRE_X_AT, CENTRE_Y_AT, lensUnknowns, Q_AT, Q_MIDDLE } from './lensUnknowns.js'
import { placeReference } from './pose.js'
import type { SheetSide } from './sheetSides.js'

/** What a lens fit needs to know beside the stills. */
export interface LensConditions {
  /** Size of the stills, px: one for all. */
  readonly stillWidth: number
  readonly stillHeight: number
  /** Half-width of the tape's tolerance, metres. */
  readonly tapeToleranceM: number
  /** Where the tape begins against the lens' entrance pupil: 0 +/- this, metres. */
  readonly offsetSigmaM: number
  /** Fields of view of a data sheet to fit the lens to as well. */
  readonly sides?: readonly SheetSide[]
  /** Whether a mark that fits none of the others may be left out; it may unless said. */
  readonly mayLeaveOut?: boolean
}

/** Pixels per radian in the middle of the picture in one light: ln F, its variance and its covariance with the bend q. */
export interface LightLens {
  readonly light: string
  readonly logF: number
  readonly varianceLogF: number
  readonly covarianceWithQ: number
}

/** A lens fitted to a walk's stills. Variances are widened by Birge's ratio where the stills scatter beyond the 99 % point of chi-square. */
export interface FittedLens {
  readonly p: number
  /** The bend it is fitted in, see `cubicOfP`, and its variance. */
  readonly q: number
  readonly varianceQ: number
  readonly lights: readonly LightLens[]
  /** Where the axis meets the still against its middle, px. */
  readonly centreOff: Point
  readonly chi2: number
  readonly dof: number
  /** The mark that fits none of the others and was left out, or null. */
  readonly leftOut: { readonly light: string; readonly distanceM: number } | null
  readonly stills: number
}

/** Fewer stills than this fit no lens: this project's convention. */
export const LEAST_STILLS = 3
const WIDENING_POINT = 0.99
/** Chance, over all marks together, that a good one is left out. */
const FALSE_SUSPICION = 0.01
/** Bends to begin with where the first does not lead to agreement: of a lens that draws straight lines straight, and of a fisheye. */
const OTHER_STARTS_Q = [1 / 3, -1 / 24]
const MOST_ROUNDS = 4
/** A round is worth another where chi-square fell by this. */
const LEAST_FALL = 0.01

/**
 * The lens (p, and pixels per radian a light) that draws known rectangles at taped distances where their corners were found: least squares over all corners
 * at once, where each reference stood and how it was turned being free, sizes, click bias, tape and the axis' place in the still within what is known of
 * them. It assumes a walker holds a reference roughly square to the camera. One mark that fits none of the others is left out. Fails under three stills and where it does not settle.
 */
export function fitLens(
  stills: readonly LensStill[],
  conditions: LensConditions,
): Outcome<FittedLens, 'too-few-stills' | 'not-settled'> {
  if (stills.length < LEAST_STILLS)
    return failure('too-few-stills', `a lens needs ${LEAST_STILLS} stills, there are ${stills.length}`)
  const whole = settle(stills, conditions)
  if (whole === null) return failure('not-settled', 'no lens of the family draws these stills')
  if (whole.chi2 <= chi2Quantile(WIDENING_POINT, whole.dof)) return success({ ...whole, leftOut: null })
  if (conditions.mayLeaveOut === false) return success({ ...whole, leftOut: null })
  return success(withoutSuspect(stills, conditions, whole) ?? { ...whole, leftOut: null })
}

/** The best fit without one mark, where leaving it out is what makes the rest agree. */
function withoutSuspect(
  stills: readonly LensStill[],
  conditions: LensConditions,
  whole: Settled,
): FittedLens | null {
  const marks = [...new Map(stills.map((still) => [`${still.light} ${still.distanceM}`, still])).values()]
  if (marks.length <= LEAST_STILLS) return null
  let best: FittedLens | null = null
  for (const { light, distanceM } of marks) {
    const rest = stills.filter((still) => still.light !== light || still.distanceM !== distanceM)
    if (rest.length < LEAST_STILLS) continue
    const fit = settle(rest, conditions)
    if (fit === null || !(fit.chi2 <= chi2Quantile(WIDENING_POINT, fit.dof))) continue
    const fall = whole.chi2 - fit.chi2
    if (!(fall > chi2Quantile(1 - FALSE_SUSPICION / marks.length, whole.dof - fit.dof))) continue
    if (best === null || fit.chi2 < best.chi2) best = { ...fit, leftOut: { light, distanceM } }
  }
  return best
}

type Settled = Omit<FittedLens, 'leftOut'>

function settle(stills: readonly LensStill[], conditions: LensConditions): Settled | null {
  const { stillWidth, stillHeight, tapeToleranceM, offsetSigmaM, sides = [] } = conditions
  const rough = roughPixelsPerRadian(stills)
  const unknowns = lensUnknowns(stills, Math.hypot(stillWidth, stillHeight), tapeToleranceM, offsetSigmaM)
  const blocks: LensBlock[] = []
  for (const [i, still] of stills.entries()) {
    const block = lensBlock(still, unknowns.ofStill[i]!)
    if (block === null) return null
    blocks.push(block)
  }
  const middle: Point = [stillWidth / 2, stillHeight / 2]
  const logFAt = unknowns.lights.map(
    (light) => unknowns.ofStill[stills.findIndex((still) => still.light === light)]!.logF,
  )
  const problem: LensProblem = { blocks, priorSigma: unknowns.priorSigma, sides, logFAt, middle }

  const start = new Float64Array(unknowns.count)
  for (const at of logFAt) start[at] = Math.log(rough)
  let settled = inRounds(problem, start)
  // A first lens far from the true one can make references lean the wrong way for good: begin with others where the stills do not agree.
  for (const q of OTHER_STARTS_Q) {
    if (settled !== null && agrees(settled, problem)) break
    const other = Float64Array.from(start)
    other[Q_AT] = q - Q_MIDDLE
    const found = inRounds(problem, other)
    if (found !== null && (settled === null || found.chi2 < settled.chi2)) settled = found
  }
  if (settled === null) return null

  const k = unknowns.count
  const dof = dofOf(settled, problem)
  const widening = agrees(settled, problem) ? 1 : settled.chi2 / dof
  const { covariance } = settled
  const q = Q_MIDDLE + settled.unknowns[Q_AT]!
  return {
    p: pOfCubic(q),
    q,
    varianceQ: widening * covariance[Q_AT]!,
    lights: unknowns.lights.map((light, i) => ({
      light,
      logF: settled.unknowns[logFAt[i]!]!,
      varianceLogF: widening * covariance[logFAt[i]! * (k + 1)]!,
      covarianceWithQ: widening * covariance[logFAt[i]!]!,
    })),
    centreOff: [settled.unknowns[CENTRE_X_AT]!, settled.unknowns[CENTRE_Y_AT]!],
    chi2: settled.chi2,
    dof,
    stills: stills.length,
  }
}

function agrees(settled: SettledLens, problem: LensProblem): boolean {
  return settled.chi2 <= chi2Quantile(WIDENING_POINT, dofOf(settled, problem))
}

/** Eight coordinates less five of where it stood, a still; what has a prior brings its own datum. */
function dofOf({ heldDof }: SettledLens, { blocks, priorSigma, sides }: LensProblem): number {
  const free = priorSigma.filter((sigma) => sigma === Infinity).length
  return Math.max(1, 3 * blocks.length + heldDof - free + sides.length)
}

/** Descents, each beginning with every reference placed anew through the lens of the last: through it some turn out to lean the other way. */
function inRounds(problem: LensProblem, start: Float64Array): SettledLens | null {
  let settled = fromStart(problem, start)
  for (let round = 1; settled !== null && round < MOST_ROUNDS; round += 1) {
    const again = fromStart(problem, settled.unknowns)
    if (again === null || again.chi2 > settled.chi2 - LEAST_FALL) break
    settled = again
  }
  return settled
}

/** A descent with every reference placed anew through the lens it begins with. */
function fromStart(problem: LensProblem, unknowns: Float64Array): SettledLens | null {
  const stands: Stand[] = []
  for (const { still, places } of problem.blocks) {
    const lens = lensAt({ places }, unknowns, problem.middle)
    const placed = placeReference(still.corners, still.widthM, still.heightM, lens)
    if (placed === null) return null
    const { turn, centre } = placed.pose
    stands.push({ frame: placed.frame, turn, u: centre[0] / centre[2], v: centre[1] / centre[2] })
  }
  return lensDescent(problem, { unknowns, stands })
}

/** The median of density times distance: what a still in the middle of the picture would say. */
function roughPixelsPerRadian(stills: readonly LensStill[]): number {
  const each = stills.map(({ corners, widthM, heightM, distanceM }) => {
    const axes = rectangleAxes(corners, widthM, heightM, null)
    return axes === null ? 1000 : Math.max(axes.horizontal, axes.vertical) * distanceM
  })
  return each.sort((a, b) => a - b)[Math.floor(each.length / 2)]!
}
