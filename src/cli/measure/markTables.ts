import type { MaybeBound } from '../../math/interval.js'
import { groupBy } from '../../math/groupBy.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'
import { type Figures, figuresFor, figuresOf } from '../../units/figures.js'
import { gradeNameOf, limitsOf } from '../../grade/gradings/grading.js'
import { textTable } from '../terminal/textTable.js'

type Mark = WalkResults['marks'][number]

/**
 * A table of its marks for every light and reference, each under its title. Judged by pixels it has one grade, and px/m with detail only
 * where some were measured; the number of stills stands where a mark has several, the line of sight where marks were taped along the ground.
 */
export function markTables(results: WalkResults): string[] {
  const { marks } = results
  const groups = groupBy(marks, (mark) => `${mark.light}, ${mark.reference}`)
  return [...groups].map(([title, group]) => {
    const columns = markColumns(group, results)
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

function markColumns(group: readonly Mark[], results: WalkResults): MarkColumns[] {
  const { grading } = results
  const { judge, distance: taped } = results.walk
  const figures = figuresOf(results)
  const both = ['right', 'left'] as const
  const distance: MarkColumns = {
    head: ['mark'],
    cells: (mark) => [figures.distance(mark.distance)],
    align: ['right'],
  }
  const sight: MarkColumns = {
    head: ['line of sight'],
    cells: (mark) => [figures.distance(mark.lineOfSight)],
    align: ['right'],
  }
  const stills: MarkColumns = { head: ['stills'], cells: (mark) => [String(mark.stills)], align: ['right'] }
  const density: MarkColumns = {
    head: [figures.densityUnit, '95 %'],
    cells: (mark) => estimate(mark.density, figures),
    align: both,
  }
  /** The limits are px/m whatever the walk prints in, so the density stands in their unit as well. */
  const inMetres = figuresFor('metric', limitsOf(grading))
  const metric: MarkColumns = {
    head: ['px/m'],
    cells: (mark) => [inMetres.density(mark.density).value],
    align: ['right'],
  }
  const detail: MarkColumns = {
    head: ['with detail', '95 %', `finest stroke, ${figures.strokeUnit}`],
    cells: (mark) => [
      ...(mark.effectiveDensity === null ? ['-', ''] : estimate(mark.effectiveDensity, figures)),
      mark.resolved === null ? '-' : figures.stroke(mark.resolved),
    ],
    align: [...both, 'right'],
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
    ...(figures.isMetric ? [] : [metric]),
    ...(hasDetail ? [detail] : []),
    ...(judge === 'detail' ? [byPixels] : []),
    judged,
  ]
}

function estimate(density: MaybeBound, figures: Figures): [string, string] {
  return [figures.density(density).value, figures.interval(density)]
}
