import type { CameraLens } from './cameraLens.js'

/** An imager's size: an inch type (1/2.8 is 0.357), which stands for a span of sizes, or the two sides in metres. */
type SensorSize =
  | { readonly kind: 'inch-type'; readonly inches: number }
  | { readonly kind: 'size'; readonly widthM: number; readonly heightM: number }

/** What a camera's data sheet says of its picture. Angles are whole fields of view in degrees, over the whole still. */
export interface DataSheet {
  readonly widthPx: number
  readonly heightPx: number
  readonly horizontalDeg?: number | null
  readonly verticalDeg?: number | null
  /** From corner to corner. */
  readonly diagonalDeg?: number | null
  readonly focalLengthM?: number | null
  readonly sensor?: SensorSize | null
  readonly pixelPitchM?: number | null
}

/** A span of values that a sheet allows; both ends equal where it is exact. */
export interface Span {
  readonly low: number
  readonly high: number
}

/** How a sheet was read, in a fitter's words. */
export interface LensRemark {
  readonly code: string
  readonly message: string
}

/** Where a data sheet disagrees with itself or with a still: the slip it looks like, or what does not agree. */
export interface Contradiction extends LensRemark {
  /** How far what the sheet says lies from what follows from the rest of it: said / expected - 1. */
  readonly relative: number
}

/** What a data sheet was read as. */
export interface LensReading {
  /** Null where the sheet gives neither an angle nor a focal length with a sensor or pixel pitch. */
  readonly lens: CameraLens | null
  /** What the written digits leave of the lens' px per radian. */
  readonly bounds: Span | null
  readonly readFrom: 'both-angles' | 'one-angle' | 'focal-length' | null
  /** Px per radian of a target square to the ray in the middle of the left or right edge, in its worse direction. */
  readonly edgePixelsPerRadian: number | null
  /** F of a lens that draws straight lines straight, from the same sheet; null where its angle allows none. */
  readonly rectilinearPixelsPerRadian: number | null
  /** What had to be assumed, what bends, what the digits leave. */
  readonly readings: readonly LensRemark[]
  readonly contradictions: readonly Contradiction[]
  /** Whether a contradiction touches what the lens was read from: nothing can be foretold by it. */
  readonly inDoubt: boolean
}
