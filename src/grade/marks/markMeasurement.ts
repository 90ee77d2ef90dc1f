import type { Estimate } from '../../math/interval.js'
import type { AxisBudget } from '../../measure/stillMeasurement.js'
import type { Gradeable } from '../gradings/gradeMeasured.js'
import type { JudgedStill } from '../judgement.js'

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
  /** The reference that `factor` was taken from, and whether most of its U is the tone curve's; null where it is the mark's own. */
  readonly detailFrom: { readonly reference: string; readonly mostlyTone: boolean } | null
  /** Where another reference tells detail, but not on both sides of this mark, which tells none. */
  readonly detailElsewhere: {
    readonly reference: string
    readonly nearM: number
    readonly farM: number
  } | null
  /** What a reference square to the ray would get; null where that is not told. */
  readonly facing: number | null
  /** Turn against the ray, degrees, of the most turned still; null unless every still's pose is known. */
  readonly turnDeg: number | null
}

/** Distances this close are one mark, metres: this project's convention. */
export const ONE_MARK_M = 0.01
