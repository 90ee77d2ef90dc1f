import { compareSays } from './sentences.js'
import { problem, type Said } from '../../sentences.js'
import { figuresFor } from '../../units/figures.js'
import { printedEstimate, printedUncertainty } from '../../units/printedEstimate.js'
import type {
  Compared,
  ComparableWalk,
  ComparedSeries,
  ComparisonFinding,
  FindingWeight,
} from './comparison.js'
import { groupBy } from '../../math/groupBy.js'
import { contrastFindings } from './contrastFindings.js'
import { densityFindings } from './densityFindings.js'
import { sceneChangeFindings } from './sceneChange.js'
import { changeInPrint, changeWithInterval, underLights } from './changeWords.js'

/** What the changes mean, in words: the camera's place and zoom first, then its focus, then single lights and single marks, then what could not be compared. */
export function comparisonFindings(compared: Compared): ComparisonFinding[] {
  return [
    ...densityFindings(compared),
    ...sceneChangeFindings(compared.scene),
    ...pointingFindings(compared),
    ...detailFindings(compared),
    ...contrastFindings(compared),
    ...markFindings(compared),
    ...notShared(compared),
  ]
}

/** A sentence as a finding of so much weight. */
function finding(said: Said, weight: FindingWeight = 'changed'): ComparisonFinding {
  return { ...problem(said), weight }
}

function pointingFindings({ pointing }: Compared): ComparisonFinding[] {
  if (pointing === null || !pointing.significant) return []
  const { downRad, low, high } = pointing
  const degrees = (angleRad: number): number => (angleRad * 180) / Math.PI
  const U = degrees((high - low) / 2)
  const value = Math.abs(degrees(downRad))
  const printed = printedEstimate({ value, low: value - U, high: value + U }).value
  return [finding(compareSays['points-elsewhere'](printed, downRad > 0, printedUncertainty(U)))]
}

function detailFindings({ series }: Compared): ComparisonFinding[] {
  const sameDensity = !series.some(({ density }) => density.significant)
  const f10 = (each: ComparedSeries) => each.f10
  return splitByLight(series, f10).map(({ changed, lights, everywhere }) => {
    const change = strongest(changed, f10)
    const less = f10(changed[0]!)!.change < 0
    if (!everywhere) {
      return finding(
        less
          ? compareSays['less-detail-in-one-light'](underLights(lights), change, lampWords(lights))
          : compareSays['more-detail-in-one-light'](underLights(lights), change),
      )
    }
    const density = sameDensity ? 'the same density' : 'beside another density'
    return finding(compareSays[less ? 'focus-or-dirt' : 'sharper'](density, change))
  })
}

function lampWords(lights: readonly string[]): string {
  return lights.includes('infrared') ? 'the infrared' : `the ${lights.join(' and ')}`
}

/** Single marks that changed where their series did not. */
function markFindings({ marks, series, after }: Compared): ComparisonFinding[] {
  const figures = figuresFor(after.units)
  return marks.flatMap((mark): ComparisonFinding[] => {
    const { light, reference, distance, density, detail } = mark
    const whole = series.find((each) => each.light === light && each.reference === reference)!
    const place = `${light}, ${reference}: the ${figures.distance(distance)}`
    const found: Said[] = []
    if (density.significant && !whole.density.significant) {
      found.push(compareSays['density-at-one-mark'](place, changeInPrint(density).change))
    }
    if (detail?.significant === true && whole.f10?.significant !== true) {
      found.push(compareSays['detail-at-one-mark'](place, changeInPrint(detail).change))
    }
    return found.map((said) => finding(said))
  })
}

function notShared({ before, after, shared }: Compared): ComparisonFinding[] {
  if (shared.length === 0) return [finding(compareSays['no-shared-mark'](), 'not comparable')]
  const figures = figuresFor(after.units)
  const only = (walk: ComparableWalk, side: 'before' | 'after'): ComparisonFinding[] => {
    const alone = walk.marks.filter((mark) => !shared.some((pair) => pair[side] === mark))
    const groups = groupBy(alone, ({ measured }) => `${measured.light}, ${measured.reference}`)
    return [...groups].map(([title, marks]) => {
      const distances = figures.distances(marks.map(({ measured }) => measured.distanceM))
      return finding(compareSays['mark-not-shared'](title, side, distances), 'to know')
    })
  }
  return [...only(before, 'before'), ...only(after, 'after')]
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

/** A light whose interval reaches this share of the change found elsewhere does not speak against it. This project's convention. */
const SHARE_HELD = 0.5

/** The greatest of the changes, with its interval. */
function strongest(changed: readonly ComparedSeries[], figure: Figure): string {
  const figures = changed.map((each) => figure(each)!)
  return changeWithInterval(
    figures.reduce((most, each) => (Math.abs(each.change) > Math.abs(most.change) ? each : most)),
  )
}
