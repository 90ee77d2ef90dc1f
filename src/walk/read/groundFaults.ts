import type { ProofwalkError } from '../../errors.js'
import { fieldFault, type FaultyFile } from '../../files/schemaFaults.js'

/** What a walk that is taped along the ground has to say as well: how high the camera stands, and how high each reference is carried. */
export function groundFaults(of: FaultyFile): ProofwalkError[] {
  const walk = groupOf(of.contents)
  if (groupOf(walk.distance).from !== 'ground') return []
  const orElse = 'or tape from the camera and take from: ground out'
  const missing = (path: readonly PropertyKey[], what: string, example: string): ProofwalkError =>
    fieldFault(
      of,
      path,
      'missing',
      `is missing: distances along the ground become lines of sight by ${what}`,
      `write for example ${example}, ${orElse}`,
    )
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

function groupOf(value: unknown): Record<string, unknown> {
  return typeof value === 'object' && value !== null ? (value as Record<string, unknown>) : {}
}
