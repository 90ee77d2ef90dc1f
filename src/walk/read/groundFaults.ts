import type { ProofwalkError } from '../../errors.js'
import { fieldFault, type FaultyFile } from '../../files/schemaFaults.js'
import { groupOf } from './writtenParts.js'
import { readSays } from './sentences.js'

/** What a walk that is taped along the ground has to say as well: how high the camera stands, and how high each reference is carried. */
export function groundFaults(of: FaultyFile): ProofwalkError[] {
  const walk = groupOf(of.contents)
  if (groupOf(walk.distance).from !== 'ground') return []
  const missing = (path: readonly PropertyKey[], what: string, example: string): ProofwalkError =>
    fieldFault(of, path, readSays['ground-needs'](what, example))
  const height = groupOf(walk.camera).mountHeight
  const references = Object.entries(groupOf(walk.references))
  return [
    ...(height === undefined
      ? [missing(['camera', 'mountHeight'], 'the height of the camera', 'mountHeight: 2.6 m under camera')]
      : []),
    ...references.flatMap(([name, reference]) =>
      typeof reference !== 'object' || reference === null || 'carriedAt' in reference
        ? []
        : [
            missing(
              ['references', name, 'carriedAt'],
              'the height its middle is carried at',
              `carriedAt: 1.1 m with ${name}`,
            ),
          ],
    ),
  ]
}
