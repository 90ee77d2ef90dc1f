import { builtInGradings } from '../../grade/gradings/builtInGradings.js'
import { groupBy } from '../../math/groupBy.js'
import { type Figures, figuresFor, listed } from '../../units/figures.js'
import { printedShare, shareText } from '../../units/printedShare.js'
import { limitsOf } from '../../grade/gradings/grading.js'
import type { SitePromise, SiteSummary } from '../../walk/site/siteSummary.js'
import {
  judgedDensity,
  metAndOpen,
  ruleSentence,
  type Standing,
  standingOf,
} from '../acceptance/verdictSentences.js'
import { sheetSays } from '../sentences.js'

/** A site in sentences: how many cameras by which edition, how many promises are met by its pixel count and how many with detail, and what is amiss. */
export function siteSentences(summary: SiteSummary): string[] {
  const { walks, notCurrent, shared, scenes } = summary
  const [least, most, read] = (['least', 'most', 'read'] as const).map((kind) =>
    summary.promises.filter(({ promise }) => promise.kind === kind),
  ) as [SitePromise[], SitePromise[], SitePromise[]]
  const editions = [...new Map(walks.map(({ walk: { grading } }) => [grading.name, grading.id]))]
  const named = editions.map(([name, id]) => {
    const withdrawn = builtInGradings.find(({ grading }) => grading.id === id)?.withdrawn ?? null
    return withdrawn === null ? name : `${name} (withdrawn on ${withdrawn})`
  })
  const counts = [...groupBy(least, ({ site }) => site.walk.grading.name)].flatMap(([name, promised]) => {
    const detailed = promised.filter(({ site }) => site.walk.judge === 'detail')
    const judged = (those: readonly SitePromise[]) =>
      those.map(({ site, promise }) => ({ promise, results: site.results! }))
    return [
      ruleSentence('pixels', name, judged(promised)),
      ...(detailed.length === 0 ? [] : [ruleSentence('detail', name, judged(detailed))]),
    ]
  })
  const verdicts = (those: readonly SitePromise[]) => metAndOpen(those.map(({ promise }) => promise))
  return [
    sheetSays['site-cameras'](walks.length, listed(named)),
    ...(summary.promises.length === 0 ? [sheetSays['site-nothing-promised']()] : counts),
    ...(read.length === 0 ? [] : [sheetSays['must-be-read'](...verdicts(read))]),
    ...(most.length === 0 ? [] : [sheetSays['must-not-see'](...verdicts(most))]),
    ...(notCurrent.length === 0 ? [] : [sheetSays['site-not-current'](notCurrent.length)]),
    ...(shared.length === 0 ? [] : [sheetSays['site-shared'](shared.some(({ certain }) => certain))]),
    ...(scenes.length === 0 ? [] : [sheetSays['site-scenes']()]),
  ].map(({ message }) => `${message}.`)
}

/** How a promise of a site stands by the pixel count of its grading. */
export function standingByPixels({ site, promise }: SitePromise): Standing {
  return standingOf(promise, 'pixels', site.results!)
}

/** The density column of a site's promises: the unit at its head where all walks have one, else beside every figure. */
export function siteDensities({ promises }: SiteSummary): {
  readonly head: string
  /** Value, 95 % interval and limit of a promise. */
  cells(promise: SitePromise, none: string): readonly [string, string, string]
} {
  const units = new Set(promises.map(({ site }) => site.walk.units))
  const isOne = units.size < 2
  const printer = ({ site }: SitePromise): Figures => figuresFor(site.walk.units, limitsOf(site.walk.grading))
  return {
    head: isOne ? figuresFor([...units][0] ?? 'metric').densityUnit : 'density',
    cells: (of, none) => {
      const figures = printer(of)
      const { value, low, high, limit, kind } = of.promise
      if (kind === 'read') {
        if (value === null || low === null || high === null) return [none, '', shareText(limit)]
        const read = printedShare({ value, low, high }, limit)
        return [`${read.value} %`, `${read.low} to ${read.high} %`, shareText(limit)]
      }
      const density = judgedDensity(of.promise, of.site.results!)
      return [
        density === null
          ? none
          : `${figures.density(density).value}${isOne ? '' : ` ${figures.densityUnit}`}`,
        density === null ? '' : figures.interval(density),
        isOne && figures.isMetric ? figures.bareLimit(limit) : figures.limit(limit),
      ]
    },
  }
}
