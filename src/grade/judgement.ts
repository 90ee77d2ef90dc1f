import type { Estimate, MaybeBound } from '../math/interval.js'
import type { StillMeasurement } from '../measure/stillMeasurement.js'

export type Basis = 'pixels' | 'detail'
export type Verdict = 'met' | 'not met' | 'not shown'
/** A grade's id, `none` where judged and no limit is reached, null where it could not be judged. */
type GradeId = string | null

/** A still's grades: by pixel count alone, and with detail and contrast. */
export interface StillGrades {
  readonly grade: GradeId
  readonly gradeByPixels: GradeId
  /** Whether some grade's element stands out; null where that could not be told. */
  readonly usable: boolean | null
}

/** A measured and graded still in its walk. `distanceM` is as taped; `lineOfSightM` is the same unless taped along the ground. */
export interface JudgedStill extends StillGrades {
  readonly file: string
  readonly light: string
  readonly reference: string
  readonly distanceM: number
  readonly lineOfSightM: number
  readonly measurement: StillMeasurement
}

/** One mark in one light with one reference. Distances in metres, densities px/m. */
export interface MarkResult {
  readonly light: string
  readonly reference: string
  readonly distance: number
  readonly lineOfSight: number
  readonly stills: number
  readonly density: Estimate
  /** Without a low end where it is an upper bound. */
  readonly effectiveDensity: MaybeBound | null
  /** Detail on the reference, cycles per metre, as its density with detail counts it; without a low end where it is an upper bound. */
  readonly resolved: MaybeBound | null
  /** The reference its detail was taken from; null where it is its own. */
  readonly detailFrom: string | null
  readonly grade: GradeId
  readonly gradeByPixels: GradeId
  readonly usable: boolean | null
  readonly why: string
  readonly leftOut: boolean
}

/** How far out one grade holds in one light with one reference on one basis, metres. */
export interface RangeResult {
  readonly light: string
  readonly reference: string
  readonly grade: string
  readonly basis: Basis
  /** Where it fails near by and holds farther out: the near end, else null. */
  readonly from: number | null
  readonly distance: number | null
  readonly low: number | null
  readonly high: number | null
  /** `too-few`: under three usable marks, with what they show; `none`: no mark reaches it. */
  readonly kind: 'fitted' | 'bracketed' | 'extrapolated' | 'too-few' | 'none'
  /** The light whose marks it rests on, where that is another. */
  readonly lentBy?: string | undefined
}

/** The lens as the walk measured it, in one light with one reference. */
export interface LensResult {
  readonly light: string
  readonly reference: string
  readonly pixelsPerRadian: Estimate
  readonly offsetM: number
  readonly suspect: { readonly distance: number; readonly fits: number } | null
  readonly promised: { readonly rectilinear: number | null; readonly asRead: number | null } | null
}

/** What was sold: a grade, or a share of characters read, at a distance in a light, on one reference or on all. */
export interface WalkPromise {
  /** Null where it is reading alone; beside reading it explains. */
  readonly grade: string | null
  readonly distanceM: number
  readonly light: string
  readonly reference?: string | undefined
  /** The buyer's own words for it. */
  readonly task?: string | undefined
  /** What is looked at there, in words. */
  readonly what?: string | undefined
  /** `most`: the grade must not be reached there; `read`: text is read there; else the grade is the least. */
  readonly kind?: 'most' | 'read'
  /** The share of characters that is read, where that is promised. */
  readonly read?: number
}

/** A promise of a grade. */
export type GradePromise = WalkPromise & { readonly grade: string; readonly kind?: 'most' }

/** A promise and what became of it; densities px/m at its distance, distance in metres; of `read`, value, low, high and limit are shares of characters. */
export interface PromiseResult {
  /** Null where text is to be read. */
  readonly grade: string | null
  readonly distance: number
  readonly light: string
  readonly reference: string | null
  readonly basis: Basis | 'reading'
  readonly verdict: Verdict
  readonly byPixels: Verdict
  readonly value: number | null
  readonly low: number | null
  readonly high: number | null
  readonly limit: number
  /** The density on the other basis at the same distance by the same marks, px/m, of `read` by pixels; null where none is told. */
  readonly onOtherBasis: MaybeBound | null
  /** The reference whose answer this is; null where none was measured. */
  readonly decidedBy: string | null
  readonly why: string
  /** What to do about it, for who walks; null where nothing is to be done. */
  readonly mend: string | null
  readonly task: string | null
  readonly what: string | null
  readonly kind: 'least' | 'most' | 'read'
}

/** What a person saw at a mark. */
export interface Observation {
  readonly distanceM: number
  readonly light: string
  readonly triggered?: boolean
  readonly by?: string
  readonly plateRead?: 'yes' | 'no'
  readonly faceKnown?: 'yes' | 'no'
  readonly note?: string
}

/** Farthest mark at which the camera triggered and nearest at which it did not, in one light, metres. */
export interface TriggerResult {
  readonly light: string
  readonly farthestTriggered: number | null
  readonly nearestNotTriggered: number | null
}

/** Something about the walk as a whole the reader should know: a stable code and a sentence, and where it has one its figure with the 95 % interval. */
export interface WalkFinding extends Partial<Estimate> {
  readonly code: string
  readonly message: string
  /** Of which light and reference alone it tells. */
  readonly light?: string | null
  readonly reference?: string | null
}

/** Everything judged of a walk. */
export interface WalkJudgement {
  readonly marks: readonly MarkResult[]
  readonly ranges: readonly RangeResult[]
  readonly lens: readonly LensResult[]
  readonly promises: readonly PromiseResult[]
  readonly triggers: readonly TriggerResult[]
  readonly findings: readonly WalkFinding[]
}
