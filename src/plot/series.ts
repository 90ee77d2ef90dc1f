import type { WalkResults } from '../walk/schemas/resultsSchema.js'

/** One light with one reference: a line in the plot, a column in the picture table, a group in the tables. */
export interface Series {
  readonly light: string
  readonly reference: string
}

/** Every series that was measured, in the order the walk names its lights, then by reference. */
export function seriesOf(results: WalkResults): Series[] {
  return sortSeries(
    results,
    [...results.marks, ...results.stills].flatMap(({ light, reference }) =>
      light === null ? [] : [{ light, reference }],
    ),
  )
}

/** Each series once, in the order the walk names its lights, then by reference. */
export function sortSeries(results: WalkResults, series: readonly Series[]): Series[] {
  const found = new Map<string, Series>()
  for (const { light, reference } of series)
    found.set(JSON.stringify([light, reference]), { light, reference })
  const lights = results.walk.lights
  const rank = (light: string): number => (lights.includes(light) ? lights.indexOf(light) : lights.length)
  return [...found.values()].sort(
    (a, b) =>
      rank(a.light) - rank(b.light) || compareText(a.light, b.light) || compareText(a.reference, b.reference),
  )
}

/** "day, board". */
export function seriesText(series: Series): string {
  return `${series.light}, ${series.reference}`
}

/** Whether something measured belongs to a series. */
export function belongsTo(
  series: Series,
  item: { readonly light: string | null; readonly reference: string },
): boolean {
  return item.light === series.light && item.reference === series.reference
}

// By code points, so that the order never depends on the machine's language.
function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
