import { type Figures, figuresOf } from '../../units/figures.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { type WalkFacts, walkFacts } from './walkFacts.js'

/** What every part of the sheet is told: the results, the walk as read from them, how its figures are printed. */
export interface SheetContext {
  readonly results: WalkResults
  readonly facts: WalkFacts
  readonly figures: Figures
  readonly simulated: boolean
  /** How the pictures are masked; null where they are not. */
  readonly masked: string | null
  /** What is attached to the file. */
  readonly attached: readonly string[]
}

/** The context of a sheet of these results; `simulated` where the walk says so or its caller. */
export function sheetContext(results: WalkResults, simulated = false): SheetContext {
  return {
    results,
    facts: walkFacts(results),
    figures: figuresOf(results),
    simulated: simulated || results.walk.simulated,
    masked: null,
    attached: [],
  }
}
