import type { Grading } from '../../grade/gradings/grading.js'
import type { Observation, WalkPromise } from '../../grade/judgement.js'
import type { Reference } from '../../measure/reference/reference.js'
import type { UnitSystem } from '../../units/formatLength.js'

/** An imager's size as the data sheet gives it: an inch type (1/2.8 is 0.357), or the two sides in metres. */
type SensorSize =
  | { readonly kind: 'inch-type'; readonly text: string; readonly inches: number }
  | { readonly kind: 'size'; readonly text: string; readonly widthM: number; readonly heightM: number }

/** The camera as its data sheet and the fitter describe it; null where the walk says nothing. */
export interface WalkCamera {
  readonly name: string
  readonly id: string | null
  readonly serial: string | null
  readonly settings: string | null
  /** Size of the exported still as displayed, px. */
  readonly image: { readonly width: number; readonly height: number } | null
  readonly fieldOfViewDeg: { readonly horizontal: number | null; readonly vertical: number | null } | null
  readonly focalLengthM: number | null
  readonly sensor: SensorSize | null
  readonly pixelPitchM: number | null
  readonly mountHeightM: number | null
  /** Degrees down. */
  readonly tiltDeg: number | null
}

/** A reference of the walk; `carriedAtM` is the height of its middle over the ground. */
export interface WalkReference {
  readonly name: string
  readonly reference: Reference
  readonly preset: string | null
  readonly carriedAtM: number | null
  /** What is to be read on it in the reading trial: letter cards under the chart, by their file, or its own text, without spaces; left out where there is nothing. */
  readonly reads?: { readonly letters: string } | { readonly text: string }
}

/** The paper of letter cards where nobody names one. */
export const LETTERS_PAPER = 'A2'

/** A still the walk names itself, because its file's name says nothing. */
export interface NamedStill {
  /** Path from the walk's folder, with forward slashes. */
  readonly file: string
  readonly distanceM: number
  readonly light: string
  readonly reference: string | null
  /** The still it shows again, where it is said. */
  readonly sameAs?: string
  /** Told of a still that is another picture than one that looks the same. */
  readonly distinct?: true
}

/** How a walk's sheet is set, and what its pictures hide. */
export interface SheetSetting {
  readonly paper: 'A4' | 'Letter'
  /** Plates, boards and charts are blurred. */
  readonly maskPlates: boolean
  /** All but those is blurred. */
  readonly maskPeople: boolean
}

/** A walk as it was written, resolved: lengths in metres, defaults filled in, presets and grading looked up. */
export interface Walk {
  /** The walk's folder, as the user named it. */
  readonly dir: string
  /** SHA-256 of the bytes of walk.yaml. */
  readonly walkSha256: string
  /** SHA-256 of its text without comments (`plainYaml`). */
  readonly walkPlainSha256: string
  /** SHA-256 of the bytes of the walk's own grading file; null for a built-in grading. */
  readonly gradingSha256: string | null
  readonly site: string
  /** ISO 8601 date of the walk; null where its stills are to tell it. */
  readonly date: string | null
  readonly people: {
    readonly client: string | null
    readonly walkedBy: string | null
    readonly measuredBy: string | null
  }
  readonly issuer: { readonly name: string | null; readonly logo: string | null }
  readonly conditions: readonly {
    readonly light: string
    readonly note: string | null
    readonly illuminance: string | null
  }[]
  readonly notes: string | null
  /** Whether its stills are simulated, which every page of its sheet then says. */
  readonly simulated: boolean
  readonly camera: WalkCamera
  /** How its sheet is written; null where nobody said. */
  readonly sheet: SheetSetting | null
  readonly units: UnitSystem
  readonly grading: Grading
  readonly judge: 'detail' | 'pixels'
  /** In the order of the file. */
  readonly references: readonly WalkReference[]
  /** `beginsM`, how far before the lens the tape's zero lies, is in the distances of marks, stills and observations already. */
  readonly distance: {
    readonly from: 'camera' | 'ground'
    readonly toleranceM: number
    readonly beginsM: number
  }
  /** The planned marks, nearest first; stills may make others. */
  readonly marksM: readonly number[]
  readonly lights: readonly string[]
  readonly promises: readonly WalkPromise[]
  readonly stills: readonly NamedStill[]
  readonly observations: readonly Observation[]
}
