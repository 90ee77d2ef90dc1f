import type { Grading } from '../grade/grading.js'

/** How a light is compared: case and the way accents are stored do not matter, and ir is infrared. */
function lightKey(name: string): string {
  const key = name.trim().normalize('NFC').toLowerCase()
  return key === 'ir' ? 'infrared' : key
}

/** A light in the walk's own spelling, or null where the walk has none of that name. */
export function lightOfWalk(name: string, lights: readonly string[]): string | null {
  return lights.find((light) => lightKey(light) === lightKey(name)) ?? null
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
