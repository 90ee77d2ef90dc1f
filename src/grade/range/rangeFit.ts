import type { Estimate } from '../../math/interval.js'
import type { FitPoint, FittedConstant } from './fitConstant.js'
import type { Axis, MarkMeasurement } from '../marks/markMeasurement.js'

/** A mark in the fit, and the axis it was fitted with. */
export interface FittedMark {
  readonly mark: MarkMeasurement
  readonly used: Axis
  readonly point: FitPoint
}

/** A mark that fits none of the others: left out of the fit. */
export interface SuspectMark {
  readonly mark: MarkMeasurement
  /** The distance its density fits by the other marks, line of sight, metres, 95 %. */
  readonly fitsM: Estimate
}

/** Another light's constant, where the scene is surely drawn as large in both and that light knows it better. */
export interface LentConstant {
  readonly light: string
  /** That light's own fit. */
  readonly fit: RangeFit
  /** By how much larger the scene is drawn here, as a logarithm, and its expanded uncertainty, 95 %. */
  readonly logScale: number
  readonly U: number
}

/** The one constant of a light and reference, with the marks behind it, ascending. */
export interface RangeFit {
  readonly marks: readonly FittedMark[]
  readonly constant: FittedConstant
  /** Birge's ratio where the marks scatter beyond the 99 % point of chi-square, else 1, and its degrees of freedom, else Infinity. */
  readonly widening: number
  readonly dof: number
  readonly suspect: SuspectMark | null
  /** Half-width of the tape's tolerance, metres: stills that near to a distance are at it. */
  readonly toleranceM: number
  /** Of how many references of its light it is one. */
  readonly among: number
  /** The same by causes that cannot be told from the one this fit frees: what it says holds by these too, the hull of all. */
  readonly otherwise: readonly RangeFit[]
  /** The kinds of the causes that leave that open. */
  readonly otherwiseBy: readonly string[]
  /** What densities and ranges rest on in place of its own constant; null for its own. */
  readonly lent: LentConstant | null
}
