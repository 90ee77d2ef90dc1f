import type { UnitSystem } from './formatLength.js'
import { densityIn, lengthIn, measuresFor } from './measures.js'

/** A density for people, taken in px/m, without its unit: whole from 100 on, one decimal below; px/ft in an imperial walk. */
export function densityText(densityPxPerM: number, units: UnitSystem = 'metric'): string {
  const density = densityIn(measuresFor(units), densityPxPerM)
  return density >= 100 ? density.toFixed(0) : density.toFixed(1)
}

/** A density beside the limit it is held against, both px/m: as `densityText`, with a decimal more wherever rounding would carry it over the limit. */
export function densityAgainst(
  densityPxPerM: number,
  limitPxPerM: number,
  units: UnitSystem = 'metric',
): string {
  const measures = measuresFor(units)
  const [density, limit] = [densityIn(measures, densityPxPerM), densityIn(measures, limitPxPerM)]
  const reaches = densityPxPerM >= limitPxPerM
  const rounded = densityText(densityPxPerM, units)
  const texts = [rounded, ...[1, 2, 3, 4].map((decimals) => density.toFixed(decimals))]
  return texts.find((text) => Number(text) >= limit === reaches) ?? String(density)
}

/** A taped distance for people, in m or ft, to two decimals, no trailing zeros. */
export function distanceText(distanceM: number, units: UnitSystem = 'metric'): string {
  const measures = measuresFor(units)
  return `${Number(lengthIn(measures, distanceM).toFixed(2))} ${measures.lengthUnit}`
}

/** The name of a grade; a dash where it could not be judged. */
export function gradeNameOf(
  id: string | null,
  grading: { readonly grades: readonly { readonly id: string; readonly name: string }[] },
): string {
  if (id === null) return '-'
  return grading.grades.find((grade) => grade.id === id)?.name ?? id
}
