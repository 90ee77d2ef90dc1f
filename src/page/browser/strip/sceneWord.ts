import type { WalkResults } from '../../../walk/schemas/resultsSchema.js'

const WORDS: Readonly<Record<string, string>> = {
  'another-view': 'another view',
  'enlarged-scene': 'another scale',
  'cropped-still': 'cut out',
}

/** What the strip says of a still that does not show the scene as the others of its light do; null of one that does. */
export function sceneWordOf(results: WalkResults | null, file: string): string | null {
  return results === null ? null : (wordsOf(results).get(file) ?? null)
}

/** By results, for each still of the strip asks. */
const known = new WeakMap<WalkResults, ReadonlyMap<string, string>>()

function wordsOf(results: WalkResults): ReadonlyMap<string, string> {
  const words = known.get(results)
  if (words !== undefined) return words
  const { scene, stills } = results
  const turned = (scene?.stills ?? []).flatMap(({ file, group }) =>
    group > 0 ? [[file, 'camera turned'] as const] : [],
  )
  const apart = stills.flatMap(({ file, problems }) =>
    problems.flatMap(({ code }) => (WORDS[code] === undefined ? [] : [[file, WORDS[code]] as const])),
  )
  const made = new Map([...turned, ...apart])
  known.set(results, made)
  return made
}
