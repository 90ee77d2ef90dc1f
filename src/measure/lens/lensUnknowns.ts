import type { Point } from '../../math/point.js'
import { CLICK_BIAS_PX, toleranceRel } from '../density/axisBudget.js'
import type { LensStill } from './lensStill.js'

/** Where each unknown of a walk's lens stands in the vector, and what is known of it beforehand. */
export interface LensUnknowns {
  readonly lights: readonly string[]
  readonly count: number
  /** Standard deviation around 0 of what an unknown is beforehand; Infinity where nothing is known. */
  readonly priorSigma: Float64Array
  /** Per still: the unknowns that move its corners. */
  readonly ofStill: readonly StillUnknowns[]
}

/** Places of a still's unknowns in the vector; the bias' is null where no hand clicked. */
export interface StillUnknowns {
  readonly logF: number
  readonly offset: number
  readonly logWidth: number
  readonly logHeight: number
  readonly bias: number | null
  readonly tape: number
}

/** The bend q (see `cubicOfP`) stands first, against that of p = 1/2; the centre's x and y after it. */
export const Q_AT = 0
export const CENTRE_X_AT = 1
export const CENTRE_Y_AT = 2

/** Where q is looked from, and how far around it lies beforehand: the named members all lie within this. This project's convention. */
export const Q_MIDDLE = 1 / 12
const Q_SIGMA = 0.25
/** How far an axis may miss the middle of the still, per axis, as a share of its diagonal: this project's convention. */
const CENTRE_SHARE = 0.01
/** Stills of one light this close in distance, and this close across (half a step), are of one stand, taped once; metres: this project's convention. */
const ONE_MARK_M = 0.01
const SAME_STAND_M = 0.25

/** What the corners of a walk's stills hang on beside where each reference stood: the lens, the sizes, the click bias, the tape. */
export function lensUnknowns(
  stills: readonly LensStill[],
  diagonalPx: number,
  tapeToleranceM: number,
  offsetSigmaM: number,
): LensUnknowns {
  const sigmas: number[] = [Q_SIGMA, CENTRE_SHARE * diagonalPx, CENTRE_SHARE * diagonalPx]
  const places = new Map<string, number>()
  const placeOf = (key: string, sigma: number): number => {
    const known = places.get(key)
    if (known !== undefined) return known
    places.set(key, sigmas.length)
    return sigmas.push(sigma) - 1
  }
  const stoodAt: LensStill[] = []
  for (const still of stills) if (!stoodAt.some((other) => oneStand(other, still))) stoodAt.push(still)
  const ofStill = stills.map((still): StillUnknowns => {
    const { light, reference } = still
    return {
      logF: placeOf(`F ${light}`, Infinity),
      offset: placeOf(`a ${light}`, offsetSigmaM),
      logWidth: placeOf(`w ${reference}`, known(toleranceRel(still.widthToleranceM, still.widthM))),
      logHeight: placeOf(`h ${reference}`, known(toleranceRel(still.heightToleranceM, still.heightM))),
      bias: still.clicked ? placeOf(`b ${reference}`, CLICK_BIAS_PX) : null,
      tape: placeOf(
        `t ${stoodAt.findIndex((other) => oneStand(other, still))}`,
        known(tapeToleranceM / Math.sqrt(3)),
      ),
    }
  })
  const lights = [...new Set(stills.map(({ light }) => light))]
  return { lights, count: sigmas.length, priorSigma: Float64Array.from(sigmas), ofStill }
}

/** An exact size or tape still takes a place in the vector, held there. */
function known(sigma: number): number {
  return Math.max(sigma, 1e-9)
}

function oneStand(a: LensStill, b: LensStill): boolean {
  if (a.light !== b.light || Math.abs(a.distanceM - b.distanceM) > ONE_MARK_M + 1e-9) return false
  const [from, to] = [middleOf(a), middleOf(b)]
  const widthPx = Math.hypot(a.corners[1][0] - a.corners[0][0], a.corners[1][1] - a.corners[0][1])
  return Math.hypot(from[0] - to[0], from[1] - to[1]) * a.widthM <= SAME_STAND_M * widthPx
}

function middleOf({ corners }: LensStill): Point {
  const mean = (i: 0 | 1): number => corners.reduce((sum, corner) => sum + corner[i], 0) / 4
  return [mean(0), mean(1)]
}
