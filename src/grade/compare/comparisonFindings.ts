import type { Compared, ComparableWalk, ComparedSeries, ComparisonFinding } from './comparison.js'
import { groupBy } from '../../math/groupBy.js'
import { contrastFindings } from './contrastFindings.js'
import { movedOrZoomed } from './movedOrZoomed.js'
import { signedPercent, underLights } from './changeWords.js'
import { wording } from '../wording.js'

/** What the changes mean, in words: the camera's place and zoom first, then its focus, then single lights and single marks, then what could not be compared. */
export function comparisonFindings(compared: Compared): ComparisonFinding[] {
  return [
    ...densityFindings(compared),
    ...pointingFindings(compared),
    ...detailFindings(compared),
    ...contrastFindings(compared),
    ...markFindings(compared),
    ...notShared(compared),
  ]
}

function densityFindings(compared: Compared): ComparisonFinding[] {
  return splitByLight(compared.series, ({ density }) => density).flatMap((split): ComparisonFinding[] => {
    if (split.everywhere) {
      return [{ code: 'moved-or-zoomed', message: movedOrZoomed(split.changed, compared), weight: 'changed' }]
    }
    const message = `another density ${underLights(split.lights)} alone, ${rangeOf(split.changed, ({ density }) => density)}: the picture is scaled or cropped there, or these stills are of another stream`
    return [{ code: 'one-light', message, weight: 'changed' }]
  })
}

function pointingFindings({ pointing }: Compared): ComparisonFinding[] {
  if (pointing === null || !pointing.significant) return []
  const degrees = (angleRad: number): string => ((Math.abs(angleRad) * 180) / Math.PI).toFixed(1)
  const half = (pointing.high - pointing.low) / 2
  const message = `the camera looks ${degrees(pointing.downRad)} degrees ${pointing.downRad > 0 ? 'lower' : 'higher'} than before (within ${degrees(half)}): it was knocked or turned`
  return [{ code: 'points-elsewhere', message, weight: 'changed' }]
}

function detailFindings({ series }: Compared): ComparisonFinding[] {
  const sameDensity = !series.some(({ density }) => density.significant)
  const f10 = (each: ComparedSeries) => each.f10
  return splitByLight(series, f10).flatMap((split): ComparisonFinding[] => {
    const amount = rangeOf(split.changed, f10)
    const less = f10(split.changed[0]!)!.change < 0
    if (!split.everywhere) {
      const cause = less
        ? `${lampWords(split.lights)} focus or lamp, or dirt that shows in that light`
        : 'that light was focused or cleaned'
      const message = `${less ? 'less' : 'more'} detail ${underLights(split.lights)} alone: ${F10_WORDS} changed by ${amount}; ${cause}`
      return [{ code: 'one-light', message, weight: 'changed' }]
    }
    const density = sameDensity ? 'the same density' : 'beside another density'
    const message = less
      ? `${density}, less detail: ${F10_WORDS} changed by ${amount}; the focus, or dirt or damp on the window`
      : `${density}, more detail: ${F10_WORDS} changed by ${amount}; it was focused or cleaned`
    return [{ code: less ? 'focus-or-dirt' : 'sharper', message, weight: 'changed' }]
  })
}

function lampWords(lights: readonly string[]): string {
  return lights.includes('infrared') ? 'the infrared' : `the ${lights.join(' and ')}`
}

/** Single marks that changed where their series did not. */
function markFindings({ marks, series, after }: Compared): ComparisonFinding[] {
  const say = wording(after.units)
  return marks.flatMap((mark): ComparisonFinding[] => {
    const whole = series.find(({ light, reference }) => light === mark.light && reference === mark.reference)!
    const place = `${mark.light}, ${mark.reference}: the ${say.length(mark.distance)} mark alone`
    const found: ComparisonFinding[] = []
    if (mark.density.significant && !whole.density.significant) {
      const message = `${place} has another density, ${signedPercent(mark.density.change)}: its tape, its still or how the reference was held`
      found.push({ code: 'one-mark', message, weight: 'changed' })
    }
    if (mark.detail?.significant === true && whole.f10?.significant !== true) {
      const message = `${place} has another share of detail, ${signedPercent(mark.detail.change)}: its still, or motion`
      found.push({ code: 'one-mark', message, weight: 'changed' })
    }
    return found
  })
}

function notShared({ before, after, shared }: Compared): ComparisonFinding[] {
  const tell = (code: string, message: string): ComparisonFinding => ({ code, message, weight: 'to know' })
  if (shared.length === 0)
    return [
      { code: 'no-shared-mark', message: 'no mark was measured in both walks', weight: 'not comparable' },
    ]
  const say = wording(after.units)
  const only = (walk: ComparableWalk, side: 'before' | 'after', word: string): ComparisonFinding[] => {
    const alone = walk.marks.filter((mark) => !shared.some((pair) => pair[side] === mark))
    const groups = groupBy(alone, ({ measured }) => `${measured.light}, ${measured.reference}`)
    return [...groups].map(([title, marks]) =>
      tell(
        'mark-not-shared',
        `${title}: measured ${word} only, not compared: ${say.lengths(marks.map(({ measured }) => measured.distanceM))}`,
      ),
    )
  }
  return [...only(before, 'before', 'before'), ...only(after, 'after', 'after')]
}

/** The lights that changed one way, and whether all that were walked in both did, or could have. */
interface LightSplit {
  readonly lights: readonly string[]
  readonly changed: readonly ComparedSeries[]
  readonly everywhere: boolean
}

type Figure = (
  series: ComparedSeries,
) => { change: number; low: number; high: number; significant: boolean } | null

/**
 * Parts the significant changes by their sign. A change is everywhere where no other light excludes it: one that is not significant there but whose interval
 * holds a good part of it says nothing against it.
 */
function splitByLight(series: readonly ComparedSeries[], figure: Figure): LightSplit[] {
  const told = series.filter((each) => figure(each) !== null)
  return [-1, 1].flatMap((sign): LightSplit[] => {
    const changed = told.filter((each) => {
      const { significant, change } = figure(each)!
      return significant && Math.sign(change) === sign
    })
    if (changed.length === 0) return []
    const least = Math.min(...changed.map((each) => Math.abs(figure(each)!.change)))
    const lights = [...new Set(changed.map(({ light }) => light))]
    const others = told.filter(({ light }) => !lights.includes(light))
    const against = others.filter((each) => {
      const { low, high } = figure(each)!
      return (sign > 0 ? high : -low) < SHARE_HELD * least
    })
    return [{ lights, changed, everywhere: against.length === 0 }]
  })
}

const F10_WORDS = 'f10, the frequency at which contrast falls to 10 %,'

/** A light whose interval reaches this share of the change found elsewhere does not speak against it. This project's convention. */
const SHARE_HELD = 0.5

function rangeOf(changed: readonly ComparedSeries[], figure: Figure): string {
  const figures = changed.map((each) => figure(each)!)
  const strongest = figures.reduce((most, each) =>
    Math.abs(each.change) > Math.abs(most.change) ? each : most,
  )
  return `${signedPercent(strongest.change)} (${signedPercent(strongest.low)} to ${signedPercent(strongest.high)})`
}
