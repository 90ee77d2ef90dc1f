import { withMend } from '../../sentences.js'
import { csvText, notRun } from '../../files/csv.js'
import { dateOfSite } from './siteWalk.js'
import type { SiteSummary } from './siteSummary.js'

const HEAD = [
  'verdict',
  'grade',
  'distance_m',
  'light',
  'reference',
  'value_px_per_m',
  'low_px_per_m',
  'high_px_per_m',
  'limit_px_per_m',
  'basis',
  'by_pixels',
  'site',
  'camera',
  'id',
  'serial',
  'date',
  'folder',
  'why',
  'grading',
  'read_share',
  'read_low',
  'read_high',
  'read_limit',
]

/**
 * A site as comma-separated text: a row for every promise, the worst first, then one for every walk that has none or is not current. Metres and px/m, shares of characters read.
 * No spreadsheet runs a text of it.
 */
export function summaryCsv(summary: SiteSummary): string {
  const ofWalk = (site: SiteSummary['walks'][number], why: string): (string | null)[] => [
    site.walk.site,
    site.walk.camera.name,
    site.walk.camera.id,
    site.walk.camera.serial,
    dateOfSite(site),
    site.dir,
    why,
    site.walk.grading.id,
  ]
  const blank = (verdict: string): (string | null)[] => [verdict, ...Array.from({ length: 10 }, () => null)]
  const rows = [
    HEAD,
    ...summary.notCurrent.map((site) => [...blank('not current'), ...ofWalk(site, site.why), ...NO_FIGURES]),
    ...summary.promises.map(({ site, promise }) => [
      promise.verdict,
      promise.grade,
      promise.distance,
      promise.light,
      promise.reference,
      ...(promise.kind === 'read' ? NO_FIGURES : figuresOf(promise)),
      promise.basis,
      promise.byPixels,
      ...ofWalk(site, withMend(promise.why, promise.mend)),
      ...(promise.kind === 'read' ? figuresOf(promise) : NO_FIGURES),
    ]),
    ...summary.withoutPromise.map((site) => [...blank('none promised'), ...ofWalk(site, ''), ...NO_FIGURES]),
  ]
  return csvText(rows.map((row) => row.map((one) => (typeof one === 'string' ? notRun(one) : one))))
}

const NO_FIGURES = [null, null, null, null] as const

function figuresOf({ value, low, high, limit }: SiteSummary['promises'][number]['promise']) {
  return [value, low, high, limit]
}
