import type { Figures } from '../units/figures.js'
import type { WalkResults } from '../walk/schemas/resultsSchema.js'

/** What stands beside a grade's line: its limit as its source gives it, with the plot's own unit where that is another: "Recognise 125", "Recognise 125 px/m (38.1 px/ft)". */
export function limitLabel(
  { name, limit }: { readonly name: string; readonly limit: number },
  { isMetric, bareLimit, limit: limitWords }: Figures,
): string {
  return `${name} ${(isMetric ? bareLimit : limitWords)(limit)}`
}

/** The plot of density against distance for those who hear it read: every mark with its density. */
export function plotInWords({ marks, grading }: WalkResults, figures: Figures): string {
  const words = marks.map(
    (mark) =>
      `${figures.distance(mark.distance)} ${mark.light} ${mark.reference}: ` +
      `${figures.density(mark.density).value} ${figures.densityUnit}${mark.leftOut ? ', left out' : ''}`,
  )
  return `Density against distance with the limits of ${grading.name}. ${words.join('; ')}.`
}
