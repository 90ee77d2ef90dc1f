import { coverageFactor, chi2Quantile } from '../../math/quantiles.js'
import { effectiveDof } from '../../math/effectiveDof.js'
import type { AxisBudget, AxisLens } from '../../measure/stillMeasurement.js'
import type { JudgedStill } from '../judgement.js'
import type { Axis, MarkAxis } from './markMeasurement.js'

/** Scatter counts as larger than stated only beyond this point of chi-square; this project's convention. */
const WIDENING_POINT = 0.99

/**
 * One axis of every mark (a list of stills each, one light and reference): the weighted mean of log density, and what is
 * left of the stills' own uncertainty. Scatter within the marks is pooled; where its chi-square exceeds the 99 % point,
 * every mark is widened by Birge's ratio and carries the pooled degrees of freedom, else the stated uncertainty holds
 * (infinite degrees of freedom). Null for marks the axis was not measured on.
 */
export function combineAxis(marks: readonly (readonly JudgedStill[])[], axis: Axis): (MarkAxis | null)[] {
  const means = marks.map((stills) =>
    weightedMean(stills.map((still) => still.measurement.budget[axis]).filter((budget) => budget !== null)),
  )
  const chi2 = means.reduce((sum, mean) => sum + (mean?.chi2 ?? 0), 0)
  const dof = means.reduce((sum, mean) => sum + (mean === null ? 0 : mean.count - 1), 0)
  const widened = dof > 0 && chi2 > chi2Quantile(WIDENING_POINT, dof)
  const ratio = widened ? Math.sqrt(chi2 / dof) : 1
  return means.map((mean) =>
    mean === null
      ? null
      : { ...mean.budget, cornersRel: mean.budget.cornersRel * ratio, dof: widened ? dof : Infinity },
  )
}

/**
 * Expanded relative uncertainty of an axis, 95 %: own scatter and common draws together (JCGM 100:2008, G.4), and the bend's whole half-width
 * added, as for one still: a correction that is not applied (F.2.4.5).
 */
export function expandedRel(axis: MarkAxis): number {
  const common = Math.hypot(axis.sizeRel, axis.clickBiasRel, ...(axis.lens?.loadsRel ?? []))
  const dof = effectiveDof([
    { u: axis.cornersRel, dof: axis.dof },
    { u: common, dof: Infinity },
  ])
  return coverageFactor(dof) * Math.hypot(axis.cornersRel, common) + Math.sqrt(3) * axis.bendRel
}

interface WeightedMean {
  readonly budget: AxisBudget
  readonly chi2: number
  readonly count: number
}

function weightedMean(budgets: readonly AxisBudget[]): WeightedMean | null {
  const only = budgets[0]
  if (only === undefined) return null
  if (budgets.length === 1) return { budget: only, chi2: 0, count: 1 }
  const weights = budgets.map(({ cornersRel }) => 1 / cornersRel ** 2)
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  const mean = (pick: (budget: AxisBudget) => number): number =>
    budgets.reduce((sum, budget, index) => sum + weights[index]! * pick(budget), 0) / total
  const logDensity = mean(({ densityPxPerM }) => Math.log(densityPxPerM))
  const chi2 = budgets.reduce(
    (sum, budget, index) => sum + weights[index]! * (Math.log(budget.densityPxPerM) - logDensity) ** 2,
    0,
  )
  return {
    budget: {
      densityPxPerM: Math.exp(logDensity),
      cornersRel: 1 / Math.sqrt(total),
      sizeRel: mean(({ sizeRel }) => sizeRel),
      bendRel: mean(({ bendRel }) => bendRel),
      clickBiasRel: mean(({ clickBiasRel }) => clickBiasRel),
      ...meanLens(budgets, weights),
    },
    chi2,
    count: budgets.length,
  }
}

/** Of stills that all went through the lens: their mean loads and gain. */
function meanLens(budgets: readonly AxisBudget[], weights: readonly number[]): { lens?: AxisLens } {
  const lenses = budgets.flatMap(({ lens }) => lens ?? [])
  if (lenses.length < budgets.length) return {}
  const total = weights.reduce((sum, weight) => sum + weight, 0)
  const mean = (of: (lens: AxisLens) => number): number =>
    lenses.reduce((sum, lens, index) => sum + weights[index]! * of(lens), 0) / total
  return {
    lens: {
      loadsRel: [mean(({ loadsRel }) => loadsRel[0]), mean(({ loadsRel }) => loadsRel[1])],
      gain: Math.exp(mean(({ gain }) => Math.log(gain))),
      gainLoadsRel: [
        mean(({ gainLoadsRel }) => gainLoadsRel[0]),
        mean(({ gainLoadsRel }) => gainLoadsRel[1]),
      ],
    },
  }
}
