import type { PictureSigns } from '../../still/samePicture.js'
import type { DensityChange, MarkPair } from './densityChange.js'
import type { PromiseResult, Verdict, WalkFinding } from '../judgement.js'
import type { LogChange } from './logChange.js'
import type { MarkMeasurement } from '../marks/markMeasurement.js'
import type { ToldMotion } from '../../scene/toldMotion.js'
import type { UnitSystem } from '../../units/formatLength.js'

/** A mark that was measured and not left out, and whether what is on it stands out of the noise. */
export interface ComparableMark {
  readonly measured: MarkMeasurement
  readonly usable: boolean | null
}

/** A measured walk as it is held against another one. */
export interface ComparableWalk {
  /** Version of the measuring. */
  readonly method: string
  readonly camera: { readonly name: string; readonly id: string | null; readonly serial: string | null }
  /** Sizes of the measured stills, "3840 x 2160", each once. */
  readonly stillSizes: readonly string[]
  /** Every still that counts. */
  readonly pictures: readonly PictureSigns[]
  readonly distanceFrom: 'camera' | 'ground'
  /** Half-width of the tape's tolerance, metres. */
  readonly distanceToleranceM: number
  /** Every reference in words that say its size: the same words are taken for the same object. */
  readonly references: Readonly<Record<string, string>>
  readonly grading: string
  readonly judge: 'pixels' | 'detail'
  /** f10 in cycles/px from which every pixel counts. */
  readonly fullDetailAt: number
  readonly lights: readonly string[]
  readonly marks: readonly ComparableMark[]
  readonly promises: readonly PromiseResult[]
  readonly units: UnitSystem
}

/** One figure before and after; `change` is relative, `low` and `high` its 95 % interval, `significant` judged over all figures of the pair together. */
export interface ComparedFigure {
  readonly before: number
  readonly after: number
  readonly change: number
  readonly low: number
  readonly high: number
  readonly significant: boolean
}

/** A mark that both walks measured: density px/m on target, detail as the share of pixels that carry some; distance in metres as taped. */
export interface ComparedMark {
  readonly light: string
  readonly reference: string
  readonly distance: number
  readonly density: ComparedFigure
  readonly detail: ComparedFigure | null
}

/** A relative change over all shared marks of a series with its 95 % interval. */
export interface PooledChange {
  readonly change: number
  readonly low: number
  readonly high: number
  readonly significant: boolean
}

/** One light with one reference: its density, and f10 (the frequency at which contrast falls to 10 %), over all its shared marks. */
export interface ComparedSeries {
  readonly light: string
  readonly reference: string
  readonly marks: number
  readonly density: PooledChange
  readonly f10: PooledChange | null
}

/** What a promise came to before and after; null where it was not made. */
export interface ComparedPromise {
  readonly grade: PromiseResult['grade']
  readonly distance: number
  readonly light: string
  readonly reference: string | null
  readonly kind: PromiseResult['kind']
  /** px/m, or of `read` a share of characters. */
  readonly limit: number
  readonly before: Verdict | null
  readonly after: Verdict | null
}

/** What a finding amounts to: nothing can be said, something changed for the worse or otherwise, or it is only to be known. */
export type FindingWeight = 'not comparable' | 'changed' | 'to know'

export interface ComparisonFinding extends WalkFinding {
  readonly weight: FindingWeight
}

/** How what does not move lies in a light's stills after against before. */
export interface ComparedScene extends ToldMotion {
  readonly light: string
}

/** What changed from one walk to another of the same camera. */
export interface WalkComparison {
  /** The lights of which it is told, the best known first. */
  readonly scene: readonly ComparedScene[]
  readonly marks: readonly ComparedMark[]
  readonly series: readonly ComparedSeries[]
  readonly findings: readonly ComparisonFinding[]
  readonly promises: readonly ComparedPromise[]
}

/** Two marks of one light, reference and distance, one from each walk, with what the tests need of them. */
export interface SharedMark {
  readonly before: ComparableMark
  readonly after: ComparableMark
  readonly pair: MarkPair
  /** Along the better known axis. */
  readonly density: DensityChange
  readonly f10: LogChange | null
}

/** How much lower the camera looks after than before, radians (negative: higher), with its 95 % interval. */
export interface Pointing {
  readonly downRad: number
  readonly low: number
  readonly high: number
  readonly significant: boolean
}

/** What was found of a pair of walks, ready for words. */
export interface Compared {
  readonly before: ComparableWalk
  readonly after: ComparableWalk
  readonly shared: readonly SharedMark[]
  readonly marks: readonly ComparedMark[]
  readonly series: readonly ComparedSeries[]
  /** Null where the scene tells it, or too few marks do. */
  readonly pointing: Pointing | null
  readonly scene: readonly ComparedScene[]
}
