import type { EventEmitter } from 'node:events'
import { createRequire } from 'node:module'

/** A matrix of OpenCV. Its data are views of memory that is gone once it is deleted and that may move when another is made: copy what is kept. */
export interface CvMat {
  readonly rows: number
  readonly cols: number
  readonly data: Uint8Array
  readonly data32S: Int32Array
  readonly data32F: Float32Array
  readonly data64F: Float64Array
  delete(): void
}

/** The part of OpenCV 4.3 (package opencv-wasm) that the tests hold this project's own code against; as documented on docs.opencv.org. */
export interface OpenCv {
  readonly CV_8UC1: number
  readonly CV_8UC3: number
  readonly CV_32FC1: number
  readonly CV_32FC2: number
  readonly CV_32SC2: number
  readonly CV_32S: number
  readonly CV_64F: number
  readonly CV_64FC1: number
  readonly CV_64FC2: number
  readonly DECOMP_SVD: number
  readonly DFT_COMPLEX_OUTPUT: number
  readonly INTER_AREA: number
  readonly INTER_LINEAR: number
  readonly BORDER_REPLICATE: number
  readonly WARP_INVERSE_MAP: number
  readonly Mat: new () => CvMat
  readonly Size: new (width: number, height: number) => object
  matFromArray(rows: number, cols: number, type: number, values: ArrayLike<number>): CvMat
  getPerspectiveTransform(from: CvMat, to: CvMat, method: number): CvMat
  findHomography(from: CvMat, to: CvMat): CvMat
  perspectiveTransform(from: CvMat, to: CvMat, map: CvMat): void
  warpPerspective(from: CvMat, to: CvMat, map: CvMat, size: object, flags: number, border: number): void
  remap(from: CvMat, to: CvMat, x: CvMat, y: CvMat, interpolation: number, border: number): void
  resize(from: CvMat, to: CvMat, size: object, fx: number, fy: number, interpolation: number): void
  GaussianBlur(from: CvMat, to: CvMat, size: object, sigmaX: number): void
  connectedComponentsWithStats(
    from: CvMat,
    labels: CvMat,
    stats: CvMat,
    centres: CvMat,
    connectivity: number,
    type: number,
  ): number
  convexHull(points: CvMat, hull: CvMat): void
  integral(from: CvMat, sums: CvMat, depth: number): void
  dft(from: CvMat, to: CvMat, flags: number): void
}

const openCv = ((): { cv: OpenCv; told: (fault: unknown) => string } => {
  // The package takes every unhandled rejection and every uncaught fault of the process for its own; vitest needs to see them.
  const events: EventEmitter = process
  const heard = ['unhandledRejection', 'uncaughtException'].map((name) => ({
    name,
    before: events.listeners(name),
  }))
  const { cv, cvTranslateError } = createRequire(import.meta.url)('opencv-wasm') as {
    cv: OpenCv
    cvTranslateError: (cv: OpenCv, fault: unknown) => string
  }
  for (const { name, before } of heard)
    for (const listener of events.listeners(name))
      if (!before.includes(listener)) events.off(name, listener as () => void)
  return { cv, told: (fault) => cvTranslateError(cv, fault) }
})()

/** Runs `use` with OpenCV; every matrix handed to `keep` is deleted afterwards, whatever happens. Its faults, bare numbers, become errors. */
export function withOpenCv<Value>(use: (cv: OpenCv, keep: (mat: CvMat) => CvMat) => Value): Value {
  const mats: CvMat[] = []
  const keep = (mat: CvMat): CvMat => {
    mats.push(mat)
    return mat
  }
  try {
    return use(openCv.cv, keep)
  } catch (fault) {
    throw typeof fault === 'number' ? new Error(openCv.told(fault)) : fault
  } finally {
    for (const mat of mats) mat.delete()
  }
}
