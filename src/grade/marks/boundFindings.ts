import { groupBy } from '../../math/groupBy.js'
import { problem } from '../../sentences.js'
import type { Figures } from '../../units/figures.js'
import type { WalkFinding } from '../judgement.js'
import { gradeSays } from '../sentences.js'
import type { MarkMeasurement } from './markMeasurement.js'

/** What of a walk's detail is an upper bound, said once per light and cause, with the marks where that is not all of the light's. */
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
      const at = [...new Set(bound.map(({ distanceM }) => distanceM))].toSorted((a, b) => a - b)
      const places = bound.length === told.length ? [] : at.map((distanceM) => figures.distance(distanceM))
      return { ...problem(gradeSays['detail-bound'](light, places, cause)), light }
    })
  })
}
