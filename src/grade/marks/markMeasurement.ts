import type { Estimate } from '../../math/interval.js'
import type { AxisBudget } from '../../measure/stillMeasurement.js'
import type { Gradeable } from '../gradings/gradeMeasured.js'
import type { JudgedStill } from '../judgement.js'
import type { BoundCause } from '../sentences.js'

/** The axes a density is measured along; `along` is a length reference's only one. */
export type Axis = 'horizontal' | 'vertical' | 'along'
export const AXES: readonly Axis[] = ['horizontal', 'vertical', 'along']

/** One axis of a mark, its stills combined: `cornersRel` is what is left of the stills' own scatter, at `dof`. */
export interface MarkAxis extends AxisBudget {
  readonly dof: number
}

/** A mark in one light with one reference, its stills combined, before any verdict. Metres and px/m. */
export interface MarkMeasurement extends Gradeable {
  readonly light: string
  readonly reference: string
  /** As taped. */
  readonly distanceM: number
  readonly lineOfSightM: number
  readonly stills: readonly JudgedStill[]
  readonly axes: Readonly<Record<Axis, MarkAxis | null>>
  readonly onTarget: Estimate
  readonly effectiveDensity: Estimate | null
  /** Share of pixels that carry detail, with its U; null where it could not be measured. */
  readonly factor: { readonly value: number; readonly U: number } | null
  /** Why that share, and with it the effective density, is an upper bound; null where it is none. */
  readonly boundBy: BoundCause | null
  /** The reference that `factor` was taken from, and whether most of its U is the tone curve's; null where it is the mark's own. */
  readonly detailFrom: { readonly reference: string; readonly mostlyTone: boolean } | null
  /** Where another reference tells detail, but not on both sides of this mark, which tells none, or only nearer the picture's middle. */
  readonly detailElsewhere: {
    readonly reference: string
    readonly nearM: number
    readonly farM: number
    readonly isNearerMiddle: boolean
  } | null
  /** What a reference square to the ray would get; null where that is not told. */
  readonly facing: number | null
  /** Turn against the ray, degrees, of the most turned still; null unless every still's pose is known. */
  readonly turnDeg: number | null
}

/** Distances this close are one mark, metres: this project's convention. */
export const ONE_MARK_M = 0.01

/** However loose the tape, what a mark shows of light and detail reaches no farther than this share of its distance: this project's convention. */
const MARK_REACH_REL = 0.1

/** How far from a mark is still at it, metres: within the tolerance of the tape. */
export function markReachM(markM: number, toleranceM: number): number {
  return Math.max(ONE_MARK_M, Math.min(toleranceM, MARK_REACH_REL * markM)) + 1e-9
}
