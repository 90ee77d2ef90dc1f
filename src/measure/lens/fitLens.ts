import { pOfCubic } from '../../lens/cubicBend.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import type { Point } from '../../math/point.js'
import { chi2Quantile } from '../../math/quantiles.js'
import { rectangleAxes } from '../density/rectangleAxes.js'
import { lensAt, lensBlock, type Stand } from './lensBlock.js'
import { lensDescent, type SettledLens } from './lensDescent.js'
import type { LensProblem } from './lensProblem.js'
import type { LensStill } from './lensStill.js'
import { CENTRE_X_AT, CENTRE_Y_AT, type LensUnknowns, lensUnknowns, Q_AT, Q_MIDDLE } from './lensUnknowns.js'
import { placeReference } from '../pose/pose.js'
import type { SheetSide } from './sheetSides.js'
import { measureSays } from '../sentences.js'

/** A mark in one light, metres line of sight. */
interface MarkOfLight {
  readonly light: string
  readonly distanceM: number
}

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
  /** The mark to do without, or null for none; where it is not said, one that fits none of the others is looked for. */
  readonly leftOut?: MarkOfLight | null
}

/** Pixels per radian in the middle of the picture in one light: ln F, its variance and its covariance with the bend q. */
interface LightLens {
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
  readonly leftOut: MarkOfLight | null
  readonly stills: number
}

/** Fewer stills than this fit no lens: this project's convention. */
const LEAST_STILLS = 3
const WIDENING_POINT = 0.99
/** Chance, over all marks together, that a good one is left out. */
const FALSE_SUSPICION = 0.01
/** Bends to begin with, one after the other until the stills agree: halfway of the family, of a lens that draws straight lines straight, of a fisheye. */
const STARTS_Q = [Q_MIDDLE, 1 / 3, -1 / 24]
const MOST_ROUNDS = 3
/** A round is worth another where chi-square fell by this. */
const LEAST_FALL = 0.01

/**
 * The lens (p, and pixels per radian a light) that draws known rectangles at taped distances where their corners were found: least squares over all corners
 * at once, where each reference stood and how it was turned being free, sizes, click bias, tape and the axis' place in the still within what is known of
 * them. It assumes a walker holds a reference roughly square to the camera. The tape of one mark that fits none of the others is left out. Fails under three stills and where it does not settle.
 */
export function fitLens(
  stills: readonly LensStill[],
  conditions: LensConditions,
): Outcome<FittedLens, 'too-few-stills' | 'not-settled'> {
  if (stills.length < LEAST_STILLS) return failure(measureSays['too-few-stills'](LEAST_STILLS, stills.length))
  const unsettled = failure(measureSays['not-settled']())
  const made = problemOf(stills, conditions)
  if (made === null) return unsettled
  const { unknowns } = made
  const leftOut = conditions.leftOut ?? null
  const problem = leftOut === null ? made.problem : withoutTape(made.problem, unknowns, stills, leftOut)
  const start = new Float64Array(unknowns.count)
  for (const at of problem.logFAt) start[at] = Math.log(roughPixelsPerRadian(stills))

  let best: SettledLens | null = null
  // A first lens far from the true one can make references lean the wrong way for good: others are begun with where the stills do not agree.
  for (const q of STARTS_Q) {
    start[Q_AT] = q - Q_MIDDLE
    const settled = inRounds(problem, start)
    if (settled === null) continue
    if (agrees(settled, problem)) return success(resultOf(settled, problem, unknowns, leftOut))
    if (conditions.leftOut === undefined) {
      const without = withoutSuspect(settled, problem, unknowns, stills)
      if (without !== null) return success(without)
    }
    if (best === null || settled.chi2 < best.chi2) best = settled
  }
  return best === null ? unsettled : success(resultOf(best, problem, unknowns, leftOut))
}

/** The best fit that does without the tape at one mark, where that is what makes the rest agree; null where none does. */
function withoutSuspect(
  settled: SettledLens,
  problem: LensProblem,
  unknowns: LensUnknowns,
  stills: readonly LensStill[],
): FittedLens | null {
  const marks = [...new Map(stills.map((still) => [`${still.light} ${still.distanceM}`, still])).values()]
  if (marks.length <= LEAST_STILLS) return null
  let best: { readonly fit: FittedLens; readonly chi2: number } | null = null
  for (const { light, distanceM } of marks) {
    const freed = withoutTape(problem, unknowns, stills, { light, distanceM })
    const fit = lensDescent(freed, settled)
    if (fit === null || !agrees(fit, freed)) continue
    const dof = dofOf(settled, problem) - dofOf(fit, freed)
    if (!(settled.chi2 - fit.chi2 > chi2Quantile(1 - FALSE_SUSPICION / marks.length, Math.max(1, dof))))
      continue
    if (best === null || fit.chi2 < best.chi2)
      best = { fit: resultOf(fit, freed, unknowns, { light, distanceM }), chi2: fit.chi2 }
  }
  return best?.fit ?? null
}

/** The same problem with nothing known of the tape at one mark: its stills then tell no distance. */
function withoutTape(
  problem: LensProblem,
  unknowns: LensUnknowns,
  stills: readonly LensStill[],
  { light, distanceM }: MarkOfLight,
): LensProblem {
  const priorSigma = Float64Array.from(problem.priorSigma)
  for (const [i, still] of stills.entries())
    if (still.light === light && still.distanceM === distanceM)
      priorSigma[unknowns.ofStill[i]!.tape] = Infinity
  return { ...problem, priorSigma }
}

function problemOf(
  stills: readonly LensStill[],
  { stillWidth, stillHeight, tapeToleranceM, offsetSigmaM, sides = [] }: LensConditions,
): { readonly problem: LensProblem; readonly unknowns: LensUnknowns } | null {
  const unknowns = lensUnknowns(stills, Math.hypot(stillWidth, stillHeight), tapeToleranceM, offsetSigmaM)
  const blocks = stills.flatMap((still, i) => lensBlock(still, unknowns.ofStill[i]!) ?? [])
  if (blocks.length < stills.length) return null
  const middle: Point = [stillWidth / 2, stillHeight / 2]
  const logFAt = unknowns.lights.map(
    (light) => unknowns.ofStill[stills.findIndex((still) => still.light === light)]!.logF,
  )
  return { problem: { blocks, priorSigma: unknowns.priorSigma, sides, logFAt, middle }, unknowns }
}

function resultOf(
  settled: SettledLens,
  problem: LensProblem,
  unknowns: LensUnknowns,
  leftOut: FittedLens['leftOut'],
): FittedLens {
  const { covariance } = settled
  const { logFAt } = problem
  const k = unknowns.count
  const dof = dofOf(settled, problem)
  const widening = agrees(settled, problem) ? 1 : settled.chi2 / dof
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
    leftOut,
    stills: problem.blocks.length,
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

/** Where the stills do not agree, every reference is placed anew through the lens found last: through it some turn out to lean the other way. */
function inRounds(problem: LensProblem, start: Float64Array): SettledLens | null {
  let settled = fromStart(problem, start)
  for (let round = 1; settled !== null && round < MOST_ROUNDS && !agrees(settled, problem); round += 1) {
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
