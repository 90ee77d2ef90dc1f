import { type Figures, figuresFor } from '../units/figures.js'
import type { WalkResults } from '../walk/schemas/resultsSchema.js'

const IN_METRES = figuresFor('metric')

/** What stands beside a grade's line: its limit as its source gives it, with the unit where the plot's is another: "Recognise 125", "Recognise 125 px/m". */
export function limitLabel(
  { name, limit }: { readonly name: string; readonly limit: number },
  { isMetric }: Figures,
): string {
  return `${name} ${isMetric ? IN_METRES.bareLimit(limit) : IN_METRES.limit(limit)}`
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
