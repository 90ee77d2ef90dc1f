import type { CameraLens } from './cameraLens.js'
import { cubicOfP, pOfCubic } from './cubicBend.js'

/** A lens known well enough for points to go through it, with what is left unknown of it. */
export interface KnownLens {
  readonly lens: CameraLens
  /** Covariance of the bend q (see `cubicOfP`) and of the logarithm of the pixels per radian. */
  readonly varianceQ: number
  readonly covariance: number
  readonly varianceLogF: number
}

/** How a quantity changes, signed, when each of the two independent draws behind a lens is one standard deviation up. */
export type LensLoads = readonly [number, number]

/** q moves by `.q` and ln F by `.logF` with each draw: the lower Cholesky factor of the covariance. */
export function lensDraws(known: KnownLens): readonly { readonly q: number; readonly logF: number }[] {
  const sigmaQ = Math.sqrt(Math.max(0, known.varianceQ))
  const shared = sigmaQ > 0 ? known.covariance / sigmaQ : 0
  return [
    { q: sigmaQ, logF: shared },
    { q: 0, logF: Math.sqrt(Math.max(0, known.varianceLogF - shared ** 2)) },
  ]
}

/** The same lens with q and ln F moved. */
export function movedLens(lens: CameraLens, q: number, logF: number): CameraLens {
  return {
    ...lens,
    p: pOfCubic(cubicOfP(lens.p) + q),
    pixelsPerRadian: lens.pixelsPerRadian * Math.exp(logF),
  }
}

/** The same lens with its axis at the middle of a still of this size, px. */
export function centredLens(lens: CameraLens, stillWidth: number, stillHeight: number): CameraLens {
  return { ...lens, centreX: stillWidth / 2, centreY: stillHeight / 2 }
}
