import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { type Series, seriesOf } from '../../plot/series.js'

/** Panels side by side, and rows of them. More lights than that stand in the tables alone. */
const MOST_BESIDE = 4
const MOST_ROWS = 2

/** One light of the plot with the series drawn of it. */
interface PlotPanel {
  readonly light: string
  readonly series: readonly Series[]
}

/** What the plot of the first page shows, and whether anything measured is left to the tables. */
export interface PlotPanels {
  readonly rows: readonly (readonly PlotPanel[])[]
  readonly isAll: boolean
}

/**
 * A panel for every light, so that lines which lie on one another stand apart: where anything was promised, of the series that promises are
 * decided by alone, as all else stands in the tables.
 */
export function plotPanels(results: WalkResults): PlotPanels {
  const all = seriesOf(results).filter((series) => results.marks.some((mark) => isOf(mark, series)))
  const deciding = all.filter((series) =>
    results.promises.some(({ light, decidedBy }) => isOf({ light, reference: decidedBy }, series)),
  )
  const drawn = deciding.length > 0 ? deciding : all
  const lights = [...new Set(drawn.map(({ light }) => light))]
  const shown = lights.slice(0, MOST_BESIDE * MOST_ROWS)
  const panels = shown.map((light) => ({ light, series: drawn.filter((series) => series.light === light) }))
  const beside = Math.ceil(panels.length / Math.ceil(panels.length / MOST_BESIDE))
  const rows = []
  for (let from = 0; from < panels.length; from += beside) rows.push(panels.slice(from, from + beside))
  return { rows, isAll: drawn.length === all.length && shown.length === lights.length }
}

function isOf(one: { readonly light: string; readonly reference: string | null }, series: Series): boolean {
  return one.light === series.light && one.reference === series.reference
}
