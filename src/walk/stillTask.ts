import type { CameraLens } from '../lens/cameraLens.js'
import type { Pick } from '../measure/pick.js'
import type { Reference } from '../measure/reference.js'
import type { StillMeasurement } from '../measure/stillMeasurement.js'
import type { ToneElement } from '../measure/tone.js'

/** All a worker needs to measure one still; plain data, so that it crosses threads. */
export interface StillTask {
  /** Absolute path of the still. */
  readonly path: string
  /** As the walk names it. */
  readonly file: string
  readonly reference: Reference
  readonly pick: Pick
  /** The hash the pick was made on; a still with another is not measured. Null for a pick given with the command. */
  readonly pickedSha256: string | null
  readonly distanceM: number | null
  readonly lens: CameraLens | null
  readonly elements: readonly ToneElement[]
  readonly fullDetailAt: number
  readonly promisedSize: { readonly width: number; readonly height: number } | null
}

/** What came of a task: the measurement with the hash of the file it was made on, or the reason why there is none. */
export type StillTaskResult =
  | { readonly ok: true; readonly sha256: string; readonly measurement: StillMeasurement }
  | { readonly ok: false; readonly code: string; readonly message: string }
