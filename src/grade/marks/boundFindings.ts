import { groupBy } from '../../math/groupBy.js'
import { problem } from '../../sentences.js'
import type { Figures } from '../../units/figures.js'
import type { WalkFinding } from '../judgement.js'
import { gradeSays } from '../sentences.js'
import type { MarkMeasurement } from './markMeasurement.js'

/** What of a walk's detail is an upper bound, said once per light and cause, with references and marks where that is not all of the light's. */
export function boundFindings(marks: readonly MarkMeasurement[], figures: Figures): WalkFinding[] {
  return [...groupBy(marks, ({ light }) => light)].flatMap(([light, all]) => {
    const told = all.filter(({ effectiveDensity }) => effectiveDensity !== null)
    // Where the light alone makes it one, signs of some stills add nothing.
    const isNight = told.some(({ boundBy }) => boundBy === 'night')
    const byCause = groupBy(
      told.filter(({ boundBy }) => boundBy !== null),
      ({ boundBy }) => (isNight ? 'night' : boundBy!),
    )
    return [...byCause].map(([cause, bound]) => {
      const places = bound.length === told.length ? [] : placesOf(bound, told, figures)
      return { ...problem(gradeSays['detail-bound'](light, places, cause)), light }
    })
  })
}

/** Where marks stand, by reference: "plate at 4 and 9 m"; without its name where the light has one alone. */
function placesOf(
  bound: readonly MarkMeasurement[],
  told: readonly MarkMeasurement[],
  figures: Figures,
): string[] {
  const isOne = new Set(told.map(({ reference }) => reference)).size === 1
  return [...groupBy(bound, ({ reference }) => reference)].map(([reference, marks]) => {
    const at = marks.map(({ distanceM }) => distanceM).toSorted((a, b) => a - b)
    return `${isOne ? '' : `${reference} `}at ${figures.distances(at)}`
  })
}
