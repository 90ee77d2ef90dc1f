import { failure, success, type Outcome } from '../../math/outcome.js'
import type { Problem } from '../../measure/stillMeasurement.js'
import type { AssignedStill } from './findStills.js'
import type { StillPick } from '../read/readPicks.js'
import { problem } from '../../sentences.js'
import { stillsSays } from './sentences.js'
import type { Walk, WalkReference } from '../read/walk.js'

/** The reference of a still, and what there is to tell about how it was found. */
export interface StillReference {
  readonly reference: WalkReference
  readonly problems: readonly Problem[]
}

/**
 * The reference of a still: what its pick says wins, then what `walk.yaml` says under `stills`, then the walk's only
 * one. Where pick and walk.yaml disagree the problem `reference-disagrees` is told. Fails with `reference-unknown`
 * where the walk has none of that name, `reference-untold` where nothing names one and the walk has several.
 */
export function resolveReference(
  walk: Pick<Walk, 'references'>,
  still: Pick<AssignedStill, 'referenceName'>,
  pick: Pick<StillPick, 'reference'> | null,
): Outcome<StillReference, 'reference-unknown' | 'reference-untold'> {
  const names = walk.references.map(({ name }) => name)
  const named = pick?.reference ?? still.referenceName
  const only = walk.references.length === 1 ? walk.references[0] : undefined
  if (named === null && only === undefined) return failure(stillsSays['reference-untold'](names))
  const reference = named === null ? only : walk.references.find(({ name }) => name === named)
  if (reference === undefined) {
    const where = (pick?.reference ?? null) === null ? 'walk.yaml' : 'picks.json'
    return failure(stillsSays['reference-unknown'](where, named ?? '', names))
  }
  const picked = pick?.reference ?? null
  const disagrees = picked !== null && still.referenceName !== null && still.referenceName !== picked
  if (!disagrees) return success({ reference, problems: [] })
  const told = problem(stillsSays['reference-disagrees'](picked, still.referenceName))
  return success({ reference, problems: [told] })
}
