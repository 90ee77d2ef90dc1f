import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import type { Measures } from '../../units/measures.js'
import type { WalkFacts } from './walkFacts.js'

/** What every part of the sheet is told: the results, the walk as read from them, the units to print in. */
export interface SheetContext {
  readonly results: WalkResults
  readonly facts: WalkFacts
  readonly measures: Measures
  readonly simulated: boolean
}
