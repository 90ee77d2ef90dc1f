import { compareSays } from './sentences.js'
import { groupBy } from '../../math/groupBy.js'
import { problem } from '../../sentences.js'
import { signedPercent, underLights } from './changeWords.js'
import type { ComparisonFinding, SharedMark, Compared } from './comparison.js'

/** Contrast against noise is told as lost below this share of what it was: a stop and more of light. This project's convention. */
const LOST_CONTRAST = 0.4

/**
 * What stood out of the noise before and does not any more, and light after light whose contrast against noise fell far: a lamp that failed, a window that fogged.
 * One light alone points to its lamp.
 */
export function contrastFindings({ before, after, shared }: Compared): ComparisonFinding[] {
  const byLight = groupBy(shared, ({ pair }) => pair.before.light)
  const lost = [...byLight].flatMap(([light, marks]) => {
    const words = lostWords(marks)
    return words === null ? [] : [{ light, words }]
  })
  // A light of which no mark could be measured any more, though others were.
  for (const light of before.lights) {
    const had = before.marks.filter(({ measured }) => measured.light === light).length
    const has = after.marks.some(({ measured }) => measured.light === light)
    if (had > 0 && !has && after.lights.includes(light) && shared.length > 0)
      lost.push({ light, words: `none of the ${had} marks measured before could be measured after` })
  }
  if (lost.length === 0) return []
  const lights = lost.map(({ light }) => light)
  const what = lost.map(({ light, words }) => `${light}: ${words}`).join('; ')
  const alone = lights.length < new Set([...byLight.keys(), ...lights]).size
  const said = alone
    ? compareSays['contrast-in-one-light'](underLights(lights), what)
    : compareSays['less-contrast'](what)
  return [{ ...problem(said), weight: 'changed' }]
}

function lostWords(marks: readonly SharedMark[]): string | null {
  const had = marks.filter(({ before }) => before.usable === true)
  const gone = had.filter(({ after }) => after.usable === false)
  if (had.length > 0 && 2 * gone.length > had.length) {
    return `${gone.length} of ${had.length} ${had.length === 1 ? 'mark' : 'marks'} no longer ${gone.length === 1 ? 'stands' : 'stand'} out of the noise`
  }
  const logs = marks.flatMap(({ before, after }) => {
    const [one, other] = [contrastOf(before), contrastOf(after)]
    return one === null || other === null ? [] : [Math.log(other / one)]
  })
  if (logs.length === 0) return null
  const mean = logs.reduce((sum, log) => sum + log, 0) / logs.length
  return mean < Math.log(LOST_CONTRAST)
    ? `contrast against noise changed by ${signedPercent(Math.exp(mean) - 1)}`
    : null
}

function contrastOf({ measured }: SharedMark['before']): number | null {
  const told = measured.stills.flatMap(({ measurement: { tone } }) =>
    tone === null || !(tone.contrastToNoise > 0) ? [] : [tone.contrastToNoise],
  )
  return told.length === 0 ? null : told.reduce((sum, value) => sum + value, 0) / told.length
}
