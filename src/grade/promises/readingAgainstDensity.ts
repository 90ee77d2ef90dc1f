import { problem } from '../../sentences.js'
import type { Figures } from '../../units/figures.js'
import { builtInGradings } from '../gradings/builtInGradings.js'
import { gradeNameOf, type Grading } from '../gradings/grading.js'
import type { Basis, RangeResult, WalkFinding } from '../judgement.js'
import { gradeSays } from '../sentences.js'
import type { JudgedReading } from './readPromise.js'

/** Where density and readers disagree: how far the grade that reading a plate asks for holds, against how far out 95 % are read, where their intervals lie apart. */
export function readingAgainstDensity(
  readings: readonly JudgedReading[],
  ranges: readonly RangeResult[],
  grading: Grading,
  basis: Basis,
  figures: Figures,
): WalkFinding[] {
  const tasks = builtInGradings.find((one) => one.grading.id === grading.id)?.tasks ?? []
  const asked = tasks.find(({ task }) => task === 'read a plate')?.grade
  return readings.flatMap(({ light, reference, row, read95 }): WalkFinding[] => {
    const holds = ranges.find(
      (range) =>
        range.grade === asked &&
        range.basis === basis &&
        range.light === light &&
        range.reference === reference,
    )
    if (row === 'faint' || read95 === null || holds === undefined || holds.low === null) return []
    const isShort = read95.high < holds.low
    const isFarther = holds.high !== null && read95.low > holds.high
    if (!isShort && !isFarther) return []
    const { value } = figures.reach({ ...read95, value: read95.distance })
    const said = gradeSays['reading-against-density'](
      `${light}, ${reference}`,
      gradeNameOf(asked!, grading),
      basis === 'detail' ? 'with detail' : 'by pixels',
      figures.distance(Number((isShort ? holds.low : holds.high!).toPrecision(3))),
      `${value} ${figures.lengthUnit}`,
      isShort,
    )
    return [{ ...problem(said), light, reference }]
  })
}
