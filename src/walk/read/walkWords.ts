import type { Grading } from '../../grade/gradings/grading.js'
import { suggestNearest } from '../../files/suggestNearest.js'
import type { LightMeant } from './sentences.js'

/** The lights most walks have; the user's own words are as good. */
export const usualLights: readonly string[] = ['day', 'dark', 'infrared', 'lamp']

/** How a light is compared: case and the way accents are stored do not matter, and ir is infrared. */
function lightKey(name: string): string {
  const key = name.trim().normalize('NFC').toLowerCase()
  return key === 'ir' ? 'infrared' : key
}

/** A light in the walk's own spelling, or null where the walk has none of that name. */
export function lightOfWalk(name: string, lights: readonly string[]): string | null {
  return lights.find((light) => lightKey(light) === lightKey(name)) ?? null
}

/**
 * The light that was most likely meant, of the walk's and of the usual words; null where none is near. A usual word the
 * walk does not have must be one slip away: dusk is a word of its own and no misspelt dark.
 */
function nearestLight(name: string, lights: readonly string[]): string | null {
  return suggestNearest(name, [...lights, ...usualLights], 1) ?? suggestNearest(name, lights)
}

/** The light likely meant where the walk has none of a name, and whether it lacks that too; null where no other is near. */
export function lightMeant(name: string, lights: readonly string[]): LightMeant | null {
  const near = nearestLight(name, lights)
  return near === null || near === name ? null : { near, isNew: lightOfWalk(near, lights) === null }
}

/** A light as the results write it: `ir` becomes `infrared`, anything else stays as the user spelt it. */
export function lightAsWritten(name: string): string {
  return lightKey(name) === 'infrared' ? 'infrared' : name.trim().normalize('NFC')
}

/** The id of a grade as people may spell it (`Recognize` for `recognise`), or null where the grading has none. */
export function gradeOfGrading(name: string, grading: Grading): string | null {
  const typed = name.trim().toLowerCase()
  const ids = grading.grades.map(({ id }) => id)
  return (
    ids.find((id) => id === typed) ?? ids.find((id) => id === typed.replace(/iz(e|ing)$/, 'is$1')) ?? null
  )
}
