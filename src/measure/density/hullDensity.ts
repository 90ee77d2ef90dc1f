import type { AxisBudget, Density, DensityBudget } from '../stillMeasurement.js'
import { expandedU } from './axisBudget.js'

/** The density that two axes give, px/m: the smaller counts. `facing`: what a target square to the ray would get. */
export function axesDensity(horizontal: AxisBudget, vertical: AxisBudget, facing: number): Density {
  const [h, v] = [horizontal.densityPxPerM, vertical.densityPxPerM]
  const [hU, vU] = [expandedU(horizontal), expandedU(vertical)]
  return {
    horizontal: h,
    horizontalU: hU,
    vertical: v,
    verticalU: vU,
    onTarget: Math.min(h, v),
    low: Math.max(0, Math.min(h - hU, v - vU)),
    high: Math.min(h + hU, v + vU),
    facing,
  }
}

/** A rectangle's density by one outline. */
interface OutlineDensity {
  readonly density: Density
  readonly budget: DensityBudget
}

/** The hull of what several outlines of one rectangle give, its own first: per axis the middle, with the half-width as its own scatter. */
export function hullDensity(outlines: readonly OutlineDensity[]): OutlineDensity {
  const horizontal = hullAxis(outlines.flatMap(({ budget }) => budget.horizontal ?? []))
  const vertical = hullAxis(outlines.flatMap(({ budget }) => budget.vertical ?? []))
  const facing = Math.max(...outlines.flatMap(({ density }) => density.facing ?? []))
  return {
    density: axesDensity(horizontal, vertical, facing),
    budget: { horizontal, vertical, along: null },
  }
}

function hullAxis(axes: readonly AxisBudget[]): AxisBudget {
  const own = axes[0]!
  const low = Math.min(...axes.map((axis) => axis.densityPxPerM - expandedU(axis)))
  const high = Math.max(...axes.map((axis) => axis.densityPxPerM + expandedU(axis)))
  const densityPxPerM = (low + high) / 2
  // What every part but the corners leaves of the half-width is theirs.
  const scatterRel = ((high - low) / 2 / densityPxPerM - Math.sqrt(3) * own.bendRel) / 2
  const othersRel = Math.hypot(own.sizeRel, own.clickBiasRel, ...(own.lens?.loadsRel ?? []))
  const cornersRel = Math.sqrt(Math.max(own.cornersRel ** 2, scatterRel ** 2 - othersRel ** 2))
  return { ...own, densityPxPerM, cornersRel }
}
