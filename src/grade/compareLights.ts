import { groupBy } from '../math/groupBy.js'
import { problem } from '../sentences.js'
import type { Figures } from '../units/figures.js'
import { underLights } from './compare/changeWords.js'
import type { WalkFinding } from './judgement.js'
import { type MarkMeasurement, ONE_MARK_M } from './marks/markMeasurement.js'
import { keptMarks, type Series } from './range/series.js'
import { gradeSays } from './sentences.js'

/** Two lights whose detail at one mark is set side by side, and the code of what is told of them. */
interface LightPair {
  readonly code: 'infrared-focus' | 'walking-blur'
  readonly first: string
  readonly second: string
}

const WALKING = '-walking'
// Less than this is within what two stills of one board differ by. This project's convention.
const CLEARLY_LOWER = 0.85

/**
 * Sets f10 (cycles/px, the lower direction) of two lights side by side at the marks both have: day against infrared, where a lens shifts its
 * focus, and each light against its walking stills (`infrared-walking`), where motion and noise reduction smear.
 */
export function compareLights(all: readonly Series[], figures: Figures): WalkFinding[] {
  return pairs(all).flatMap((pair) =>
    all
      .filter(({ light }) => light === pair.first)
      .flatMap((first) => {
        const second = all.find(
          ({ light, reference }) => light === pair.second && reference === first.reference,
        )
        return second === undefined ? [] : compareSeries(first, second, pair, figures)
      }),
  )
}

function pairs(all: readonly Series[]): LightPair[] {
  const lights = [...new Set(all.map(({ light }) => light))]
  const walking = lights
    .filter((light) => lights.includes(light + WALKING))
    .map((light) => ({
      code: 'walking-blur' as const,
      first: light,
      second: light + WALKING,
    }))
  return [{ code: 'infrared-focus', first: 'day', second: 'infrared' }, ...walking]
}

/** One finding for a reference in two lights, whatever the number of marks they share. */
function compareSeries(first: Series, second: Series, pair: LightPair, figures: Figures): WalkFinding[] {
  const shared = keptMarks(first).flatMap((mark) => {
    const other = keptMarks(second).find(
      ({ distanceM }) => Math.abs(distanceM - mark.distanceM) <= ONE_MARK_M + 1e-9,
    )
    const before = f10(mark)
    const after = other === undefined ? null : f10(other)
    return before === null || after === null ? [] : [{ mark, before, after }]
  })
  if (shared.length === 0) return []
  const lower = shared.filter(({ before, after }) => after < CLEARLY_LOWER * before)
  const alike = groupBy(shared, ({ before, after }) => `${after.toFixed(2)}\n${before.toFixed(2)}`)
  const told = [...alike.values()].map((marks, index) => {
    const { before, after } = marks[0]!
    const [unit, first, second] =
      index === 0
        ? [' cycles per pixel', ` ${underLights([pair.second])}`, ` ${underLights([pair.first])}`]
        : ['', '', '']
    const where = `at the ${figures.distances(marks.map(({ mark }) => mark.distanceM))} ${marks.length > 1 ? 'marks' : 'mark'}`
    return `${after.toFixed(2)}${unit}${first} against ${before.toFixed(2)}${second} ${where}`
  })
  const mostLower = 2 * lower.length > shared.length
  return [problem(gradeSays[pair.code](first.reference, told.join(', '), mostLower))]
}

function f10(mark: MarkMeasurement): number | null {
  const told = mark.stills.flatMap(({ measurement: { sharpness } }) =>
    sharpness === null ? [] : [Math.min(sharpness.horizontal.mtf10, sharpness.vertical.mtf10)],
  )
  return told.length === 0 ? null : told.reduce((sum, value) => sum + value, 0) / told.length
}
