import type { Grading } from '../../grade/gradings/grading.js'
import type { StillEntry } from '../../walk/schemas/resultsSchema.js'
import { densityText, gradeNameOf } from '../../units/oldFigures.js'
import { textTable } from '../terminal/textTable.js'

/** What `measure STILL` prints: its figures, a line each, then what the reader should know of it. */
export function stillTable(still: StillEntry, grading: Grading): string {
  const { density, effectiveDensity: effective, sharpness, tone } = still
  const rows: string[][] = [
    [
      'density',
      `${densityText(density.onTarget)} px/m`,
      `${densityText(density.low)} to ${densityText(density.high)}`,
    ],
  ]
  if (density.horizontal !== null && density.vertical !== null) {
    rows.push(['along its width', `${densityText(density.horizontal)} px/m`, plusMinus(density.horizontalU)])
    rows.push(['along its height', `${densityText(density.vertical)} px/m`, plusMinus(density.verticalU)])
  }
  rows.push(
    effective === null
      ? ['with detail', '-', '']
      : [
          'with detail',
          `${densityText(effective.value)} px/m`,
          `${densityText(effective.low)} to ${densityText(effective.high)}`,
        ],
  )
  if (sharpness !== null) {
    const f10 = Math.min(sharpness.horizontal.mtf10, sharpness.vertical.mtf10)
    rows.push([
      'detail to',
      `${f10.toFixed(2)} cycles/px`,
      '',
      `counts ${percent(sharpness.factor)} of the pixels`,
    ])
  }
  if (tone !== null) {
    rows.push(['contrast', percent(tone.michelson), '', `noise ${tone.noise.toFixed(1)} of 255`])
  }
  rows.push(['grade by pixels', gradeNameOf(still.gradeByPixels, grading), '', grading.name])
  rows.push(['grade with detail', gradeNameOf(still.grade, grading), '', "this project's stricter rule"])
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

function plusMinus(U: number | null): string {
  return U === null ? '' : `\u00b1 ${densityText(U)}`
}
