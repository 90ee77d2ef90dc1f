import { OFFSET_PRIOR_M } from '../../grade/range/fitConstant.js'
import type { LensReading } from '../../lens/dataSheet.js'
import { cubicOfP, pOfCubic } from '../../lens/cubicBend.js'
import type { KnownLens } from '../../lens/knownLens.js'
import type { Estimate } from '../../math/interval.js'
import type { Point } from '../../math/point.js'
import { chi2Quantile } from '../../math/quantiles.js'
import { fitLens, type FittedLens, type LensConditions } from '../../measure/lens/fitLens.js'
import type { LensStill } from '../../measure/lens/lensStill.js'
import type { SheetSide } from '../../measure/lens/sheetSides.js'
import type { Problem } from '../../measure/stillMeasurement.js'
import { problem } from '../../sentences.js'
import { stillsSays } from '../stills/sentences.js'
import type { ProjectionResult } from '../schemas/resultsSchema.js'

/** What a walk knows of its lens: by light, for stills of one size. */
export interface LensOfStills {
  readonly width: number
  readonly height: number
  readonly byLight: ReadonlyMap<string, KnownLens>
  readonly projection: ProjectionResult
}

/** What the lens is made out from. */
export interface LensEvidence {
  readonly stills: readonly LensStill[]
  /** Size of all of them, px. */
  readonly width: number
  readonly height: number
  readonly tapeToleranceM: number
  readonly reading: LensReading | null
  /** The data sheet's fields of view, where they span these stills. */
  readonly sides: readonly SheetSide[]
}

// The first five are this project's conventions.
/** A bend whose expanded uncertainty is under this is known: more than half of what an unknown lens may bend is gone. */
const KNOWN_Q_U = 0.15
/** The walk's own bend is told only where references stand this far apart, as a share of the frame's diagonal: nearer by, it hangs on how square each was held. */
const LEAST_SPREAD = 0.25
/** Pixels per radian known worse than this (expanded, relative) are not held against a data sheet. */
const KNOWN_F_U = 0.05
/** Beyond the measured uncertainty, F and bend may differ this much from a data sheet's, whose angles are nominal. */
const NOMINAL_F = 0.03
const NOMINAL_Q = 0.03
/** No lens of the family draws stills that scatter more than this over what is stated (chi-square a degree of freedom). */
const MOST_SCATTER = 4
/** A lens is a member of the family only nearly: standard deviation of the bend beside what the fit leaves open. This project's convention. */
const FAMILY_Q_U = 0.005
const AGREEMENT_POINT = 0.99

/**
 * Makes out the lens of a walk: fitted from the stills where they stand in enough places of the frame; else the data sheet's, but only where the walk's own
 * pixels per radian and its stills agree with that; else none, and corners are read as they lie. Tells where the two disagree.
 */
export function lensOfStills(evidence: LensEvidence): {
  readonly lens: LensOfStills | null
  readonly findings: readonly Problem[]
} {
  const { stills, reading, sides } = evidence
  const conditions: LensConditions = {
    stillWidth: evidence.width,
    stillHeight: evidence.height,
    tapeToleranceM: evidence.tapeToleranceM,
    offsetSigmaM: OFFSET_PRIOR_M,
  }
  const free = fitLens(stills, conditions)
  if (!free.ok || free.value.chi2 > MOST_SCATTER * free.value.dof) return { lens: null, findings: [] }
  const own = free.value
  const joint = sides.length === 0 ? null : fitLens(stills, { ...conditions, sides, leftOut: own.leftOut })
  const withSheet = joint?.ok === true ? joint.value : null
  const agrees = withSheet !== null && agreesWithSheet(own, withSheet, reading, sides)
  const tellsBend = 2 * Math.sqrt(own.varianceQ) <= KNOWN_Q_U && spread(evidence) >= LEAST_SPREAD
  const findings = againstSheet(own, tellsBend, reading, agrees, sides)
  if (tellsBend) return { lens: known(own, 'walk', evidence), findings }
  if (agrees && 2 * Math.sqrt(withSheet.varianceQ) <= KNOWN_Q_U)
    return { lens: known(withSheet, 'data-sheet', evidence), findings }
  return { lens: null, findings }
}

/** Whether the stills know F well enough to say, and they, F and the bend agree with what the sheet says. */
function agreesWithSheet(
  own: FittedLens,
  withSheet: FittedLens,
  reading: LensReading | null,
  sides: readonly SheetSide[],
): boolean {
  const read = reading?.lens ?? null
  if (read === null || !(spreadF(withSheet) <= KNOWN_F_U)) return false
  const strained = withSheet.chi2 - own.chi2
  const offF = Math.abs(meanLogF(withSheet) - Math.log(read.pixelsPerRadian))
  const offQ = Math.abs(withSheet.q - cubicOfP(read.p))
  return (
    strained <= chi2Quantile(AGREEMENT_POINT, sides.length) &&
    offF <= spreadF(withSheet) + NOMINAL_F &&
    offQ <= 2 * Math.sqrt(withSheet.varianceQ) + NOMINAL_Q
  )
}

/** The largest distance between two references' middles, as a share of the frame's diagonal. */
function spread({ stills, width, height }: LensEvidence): number {
  const middles = stills.map(({ corners }): Point => [mean(corners, 0), mean(corners, 1)])
  const apart = middles.flatMap(([x, y], i) => middles.slice(i + 1).map(([u, v]) => Math.hypot(u - x, v - y)))
  return Math.max(0, ...apart) / Math.hypot(width, height)
}

function mean(points: readonly Point[], axis: 0 | 1): number {
  return points.reduce((sum, point) => sum + point[axis], 0) / points.length
}

function againstSheet(
  own: FittedLens,
  knownQ: boolean,
  reading: LensReading | null,
  agrees: boolean,
  sides: readonly SheetSide[],
): Problem[] {
  const read = reading?.lens ?? null
  if (read === null || agrees || sides.length === 0 || !(spreadF(own) <= KNOWN_F_U)) return []
  return [
    problem(
      stillsSays['lens-against-sheet'](
        { perRadian: expanded(meanLogF(own), spreadF(own)), p: knownQ ? projectionP(own) : null },
        read,
      ),
    ),
  ]
}

function known(fit: FittedLens, from: ProjectionResult['from'], evidence: LensEvidence): LensOfStills {
  const varianceQ = fit.varianceQ + FAMILY_Q_U ** 2
  const interval = projectionP(fit)
  const byLight = new Map(
    fit.lights.map(({ light, logF, varianceLogF, covarianceWithQ }): [string, KnownLens] => [
      light,
      {
        lens: {
          p: fit.p,
          pixelsPerRadian: Math.exp(logF),
          centreX: evidence.width / 2,
          centreY: evidence.height / 2,
        },
        varianceQ,
        covariance: covarianceWithQ,
        varianceLogF,
      },
    ]),
  )
  const lights = fit.lights.map(({ light, logF, varianceLogF }) => {
    return { light, ...expanded(logF, 2 * Math.sqrt(varianceLogF)) }
  })
  return {
    width: evidence.width,
    height: evidence.height,
    byLight,
    projection: {
      p: fit.p,
      low: interval.low,
      high: interval.high,
      from,
      pixelsPerRadian: lights,
      stills: fit.stills,
      leftOut: leftOutOf(fit),
    },
  }
}

function expanded(log: number, U: number): Estimate {
  return { value: Math.exp(log), low: Math.exp(log - U), high: Math.exp(log + U) }
}

function leftOutOf({ leftOut }: FittedLens): ProjectionResult['leftOut'] {
  return leftOut === null ? null : { light: leftOut.light, lineOfSight: leftOut.distanceM }
}

/** p with its 95 % interval, which is that of the bend. */
function projectionP({ p, q, varianceQ }: FittedLens): Estimate {
  const U = 2 * Math.sqrt(varianceQ)
  return { value: p, low: pOfCubic(q - U), high: pOfCubic(q + U) }
}

function meanLogF({ lights }: FittedLens): number {
  return lights.reduce((sum, { logF }) => sum + logF, 0) / lights.length
}

/** Expanded relative uncertainty of F, the worst light's. */
function spreadF({ lights }: FittedLens): number {
  return 2 * Math.sqrt(Math.max(...lights.map(({ varianceLogF }) => varianceLogF)))
}
