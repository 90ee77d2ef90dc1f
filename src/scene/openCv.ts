import type { EventEmitter } from 'node:events'
import { createRequire } from 'node:module'

/** A matrix of OpenCV. Its data are views of memory that is gone once it is deleted and that may move when another is made: copy what is kept. */
export interface CvMat extends Deletable {
  readonly rows: number
  readonly cols: number
  readonly data: Uint8Array
  readonly data32S: Int32Array
  readonly data32F: Float32Array
  readonly data64F: Float64Array
  /** A part of it, which shares its memory. */
  roi(area: object): CvMat
}

/** What must be given back by hand. */
interface Deletable {
  delete(): void
}

interface CvKeyPoints extends Deletable {
  size(): number
  get(index: number): { readonly pt: { readonly x: number; readonly y: number }; readonly response: number }
}

interface CvFeatures extends Deletable {
  detectAndCompute(picture: CvMat, mask: CvMat, keyPoints: CvKeyPoints, descriptors: CvMat): void
}

/** The part of OpenCV 4.3 (package opencv-wasm) that is used here; as documented on docs.opencv.org. */
export interface OpenCv {
  readonly CV_8UC1: number
  readonly CV_32F: number
  readonly CV_32FC2: number
  readonly TermCriteria_COUNT: number
  readonly TermCriteria_EPS: number
  readonly Mat: new (rows?: number, cols?: number, type?: number) => CvMat
  readonly Size: new (width: number, height: number) => object
  readonly Rect: new (x: number, y: number, width: number, height: number) => object
  readonly TermCriteria: new (type: number, steps: number, eps: number) => object
  readonly KeyPointVector: new () => CvKeyPoints
  readonly AKAZE: new () => CvFeatures
  matFromArray(rows: number, cols: number, type: number, values: ArrayLike<number>): CvMat
  GaussianBlur(from: CvMat, to: CvMat, size: object, sigmaX: number): void
  Sobel(from: CvMat, to: CvMat, depth: number, dx: number, dy: number): void
  magnitude(x: CvMat, y: CvMat, to: CvMat): void
  blur(from: CvMat, to: CvMat, size: object): void
  dilate(from: CvMat, to: CvMat, kernel: CvMat): void
  erode(from: CvMat, to: CvMat, kernel: CvMat): void
  absdiff(one: CvMat, other: CvMat, to: CvMat): void
  goodFeaturesToTrack(
    picture: CvMat,
    corners: CvMat,
    most: number,
    quality: number,
    distance: number,
    mask: CvMat,
  ): void
  calcOpticalFlowPyrLK(
    from: CvMat,
    to: CvMat,
    points: CvMat,
    found: CvMat,
    status: CvMat,
    error: CvMat,
    window: object,
    levels: number,
    until: object,
  ): void
}

interface Loaded {
  readonly cv: OpenCv
  readonly told: (fault: unknown) => string
}

let loaded: Loaded | null = null

/** The package takes every unhandled rejection and every uncaught fault of its thread for its own: the listeners it adds are taken off. */
function load(): Loaded {
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
}

/**
 * Runs `use` with OpenCV, which is loaded by the first call; whatever is handed to `keep` is deleted afterwards, whatever happens.
 * @throws an Error with OpenCV's own words where it throws, which it does as a bare number
 */
export function withOpenCv<Value>(
  use: (cv: OpenCv, keep: <Kept extends Deletable>(kept: Kept) => Kept) => Value,
): Value {
  loaded ??= load()
  const kept: Deletable[] = []
  const { cv, told } = loaded
  try {
    return use(cv, (one) => {
      kept.push(one)
      return one
    })
  } catch (fault) {
    throw typeof fault === 'number' ? new Error(told(fault)) : fault
  } finally {
    for (const one of kept) one.delete()
  }
}
