import type { Reference, ChartReference } from '../../measure/reference/reference.js'
import type { ToneElement, StillMeasurement } from '../../measure/stillMeasurement.js'
import type { CameraLens } from '../../lens/cameraLens.js'
import type { Pick } from '../../measure/reference/pick.js'

/** Points somebody gave on a reference. */
export interface PickedReference {
  readonly kind: 'picked'
  readonly reference: Reference
  readonly pick: Pick
  /** The hash the pick was made on; a still with another is not measured. Null for a pick given with the command. */
  readonly pickedSha256: string | null
}

/** A still on which nobody picked these charts: whichever of them is in it, is looked for. */
export interface ChartSearch {
  readonly kind: 'chart'
  readonly charts: readonly ChartReference[]
  /** What else to do where none is found: "give its corners in picks.json". */
  readonly elseMend: string | null
  /** The still was picked for something else: there need be no chart in it. */
  readonly beside?: true
}

/** All a worker needs to measure one still; plain data, so that it crosses threads. */
export interface StillTask {
  /** Absolute path of the still. */
  readonly path: string
  /** As the walk names it. */
  readonly file: string
  readonly subject: PickedReference | ChartSearch
  /** Line of sight to the reference, metres. */
  readonly distanceM: number | null
  readonly lens: CameraLens | null
  readonly elements: readonly ToneElement[]
  readonly fullDetailAt: number
  readonly promisedSize: { readonly width: number; readonly height: number } | null
}

/** What came of a task: the measurement with the hash of the file it was made on, or the reason why there is none. */
export type StillTaskResult =
  | {
      readonly ok: true
      readonly sha256: string
      /** When the camera says it was taken, its clock's own time; null where it does not say. */
      readonly takenAt: string | null
      readonly reference: Reference
      /** As given, or as found. */
      readonly pick: Pick
      readonly measurement: StillMeasurement
    }
  | {
      readonly ok: false
      readonly code: string
      readonly message: string
      /** Of the still that failed; null where it could not be opened. */
      readonly sha256: string | null
    }

/** A file that could not be measured, why, and where it would have stood. */
export interface FailedStill {
  readonly file: string
  readonly code: string
  readonly message: string
  /** Of the still as it was when it failed; null where it was not opened. */
  readonly sha256: string | null
  /** Null where it is not known. */
  readonly light: string | null
  readonly distanceM: number | null
  readonly reference: string | null
}

/** A still that can be measured once its corners are given. */
export interface UnpickedStill {
  readonly file: string
  readonly light: string
  readonly distanceM: number
  readonly reference: Reference
}
