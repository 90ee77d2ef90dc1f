import type { Estimate } from '../../math/interval.js'
import { groupBy } from '../../math/groupBy.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import type { UnitSystem } from '../../units/formatLength.js'
import { measuresFor } from '../../units/measures.js'
import { densityText, distanceText, gradeNameOf } from '../../units/oldFigures.js'
import { textTable } from '../terminal/textTable.js'

type Mark = WalkResults['marks'][number]
type Grading = WalkResults['grading']

/**
 * A table of its marks for every light and reference, each under its title. Judged by pixels it has one grade, and px/m with detail only
 * where some were measured; the number of stills stands where a mark has several, the line of sight where marks were taped along the ground.
 */
export function markTables({ marks, grading, walk }: WalkResults): string[] {
  const groups = groupBy(marks, (mark) => `${mark.light}, ${mark.reference}`)
  return [...groups].map(([title, group]) => {
    const columns = markColumns(group, grading, walk)
    const rows = group.map((mark) => ({ cells: columns.flatMap(({ cells }) => cells(mark)), note: mark.why }))
    const head = columns.flatMap((column) => column.head)
    return `${title}\n${textTable(
      head,
      rows,
      columns.flatMap(({ align }) => align),
    )}`
  })
}

/** Columns that stand or fall together: a value and its interval. */
interface MarkColumns {
  readonly head: readonly string[]
  readonly cells: (mark: Mark) => readonly string[]
  readonly align: readonly ('left' | 'right')[]
}

function markColumns(
  group: readonly Mark[],
  grading: Grading,
  { judge, units, distance: taped }: WalkResults['walk'],
): MarkColumns[] {
  const figures = ['right', 'left'] as const
  const distance: MarkColumns = {
    head: ['mark'],
    cells: (mark) => [distanceText(mark.distance, units)],
    align: ['right'],
  }
  const sight: MarkColumns = {
    head: ['line of sight'],
    cells: (mark) => [distanceText(mark.lineOfSight, units)],
    align: ['right'],
  }
  const stills: MarkColumns = { head: ['stills'], cells: (mark) => [String(mark.stills)], align: ['right'] }
  const density: MarkColumns = {
    head: [measuresFor(units).densityUnit, '95 %'],
    cells: (mark) => estimate(mark.density, units),
    align: figures,
  }
  /** The limits are px/m whatever the walk prints in, so the density stands in their unit as well. */
  const metric: MarkColumns = {
    head: ['px/m'],
    cells: (mark) => [densityText(mark.density.value)],
    align: ['right'],
  }
  const detail: MarkColumns = {
    head: ['with detail', '95 %'],
    cells: (mark) => (mark.effectiveDensity === null ? ['-', ''] : estimate(mark.effectiveDensity, units)),
    align: figures,
  }
  const byPixels: MarkColumns = {
    head: ['grade by pixels'],
    cells: (mark) => [gradeNameOf(mark.gradeByPixels, grading)],
    align: ['left'],
  }
  const judged: MarkColumns = {
    head: [judge === 'detail' ? 'grade with detail' : 'grade'],
    cells: (mark) => [gradeNameOf(mark.grade, grading)],
    align: ['left'],
  }
  const hasDetail = judge === 'detail' || group.some((mark) => mark.effectiveDensity !== null)
  return [
    distance,
    ...(taped.from === 'ground' ? [sight] : []),
    ...(group.some((mark) => mark.stills > 1) ? [stills] : []),
    density,
    ...(units === 'imperial' ? [metric] : []),
    ...(hasDetail ? [detail] : []),
    ...(judge === 'detail' ? [byPixels] : []),
    judged,
  ]
}

function estimate({ value, low, high }: Estimate, units: UnitSystem): [string, string] {
  return [densityText(value, units), `${densityText(low, units)} to ${densityText(high, units)}`]
}
