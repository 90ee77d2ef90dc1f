import type { MaybeBound } from '../../math/interval.js'
import { gradeNameOf, type Grading, limitsOf, strokeAsked } from '../../grade/gradings/grading.js'
import type { StillEntry } from '../../walk/schemas/resultsSchema.js'
import { figuresFor } from '../../units/figures.js'
import type { UnitSystem } from '../../units/formatLength.js'
import { printedValue } from '../../units/printedEstimate.js'
import { textTable } from '../terminal/textTable.js'

/** What `measure STILL` prints in the units asked for: its figures, a line each, then what the reader should know of it. */
export function stillTable(still: StillEntry, grading: Grading, units: UnitSystem = 'metric'): string {
  const { density, effectiveDensity: effective, sharpness, tone, strip } = still
  const figures = figuresFor(units, limitsOf(grading))
  const estimate = (of: MaybeBound): string[] => [
    `${figures.density(of).value} ${figures.densityUnit}`,
    figures.interval(of),
  ]
  const axis = (value: number, U: number | null): string[] =>
    U === null
      ? [`${figures.plainDensity(value)} ${figures.densityUnit}`, '']
      : [
          `${figures.density({ value, low: value - U, high: value + U }).value} ${figures.densityUnit}`,
          `\u00b1 ${figures.uncertainty(U)}`,
        ]
  const rows: string[][] = [['density', ...estimate({ ...density, value: density.onTarget })]]
  if (density.horizontal !== null && density.vertical !== null) {
    rows.push(['along its width', ...axis(density.horizontal, density.horizontalU)])
    rows.push(['along its height', ...axis(density.vertical, density.verticalU)])
  }
  const byStrips = strip === null || strip === undefined ? [] : ['by the strips']
  rows.push(['with detail', ...(effective === null ? ['-', ''] : estimate(effective)), ...byStrips])
  if (still.resolved !== null)
    rows.push([
      'finest stroke',
      `${figures.stroke(still.resolved)} ${figures.strokeUnit}`,
      '',
      ['by strong edges', strokeAsked(still.gradeByPixels, grading, figures)]
        .filter((part) => part !== '')
        .join('; '),
    ])
  if (sharpness !== null) {
    const f10 = Math.min(sharpness.horizontal.mtf10, sharpness.vertical.mtf10)
    rows.push([
      'detail to',
      `${f10.toFixed(2)} cycles/px`,
      '',
      byStrips.length > 0 ? 'by strong edges' : `counts ${percent(sharpness.factor)} of the pixels`,
    ])
  }
  if (strip !== null && strip !== undefined) {
    const { a, aU, stroke } = strip
    const told = stroke === null ? null : { value: 0.5 / stroke, low: 0.5 / stroke, high: 0.5 / stroke }
    const shown = told === null ? 'no stroke' : `a stroke of ${figures.stroke(told)} ${figures.strokeUnit}`
    rows.push([
      'low contrast',
      `${printedValue(figures.inDensityUnit(a), 1)} cycles/${figures.lengthUnit}`,
      `\u00b1 ${printedValue(figures.inDensityUnit(aU), 1)}`,
      `shows ${shown}`,
    ])
  }
  if (tone !== null) {
    rows.push(['contrast', percent(tone.michelson), '', `noise ${tone.noise.toFixed(1)} of 255`])
  }
  const from = (id: string | null): string => {
    const grade = grading.grades.find((one) => one.id === id)
    return grade === undefined ? '' : `, from ${figures.limit(grade.limit)}`
  }
  rows.push([
    'grade by pixels',
    gradeNameOf(still.gradeByPixels, grading),
    '',
    `${grading.name}${from(still.gradeByPixels)}`,
  ])
  rows.push([
    'grade with detail',
    gradeNameOf(still.grade, grading),
    '',
    `this project's stricter rule${from(still.grade)}`,
  ])
  const notes = still.problems.map(({ message }) => `  note: ${message}\n`)
  return (
    textTable(
      [still.file, 'value', '95 %', 'about'],
      rows.map((cells) => ({ cells })),
    ) + notes.join('')
  )
}

function percent(share: number): string {
  return `${(share * 100).toFixed(0)} %`
}
