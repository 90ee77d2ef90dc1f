import { changeInPrint } from '../../grade/compare/changeWords.js'
import type { ComparedFigure, ComparedMark } from '../../grade/compare/comparison.js'
import { ONE_MARK_M } from '../../grade/marks/markMeasurement.js'
import { figuresOf } from '../../units/figures.js'
import type { WalkResults } from '../../walk/schemas/resultsSchema.js'

/** Prints a compared figure of the walk before (0) or after (1). */
type PrintSide = (value: number, side: 0 | 1) => string

/** How a compared mark's densities are printed: as each walk's own table has them, where that walk still tells the interval. */
export function densityPrinter(
  walks: readonly [WalkResults, WalkResults],
): (mark: ComparedMark) => PrintSide {
  const figures = figuresOf(walks[1])
  return ({ light, reference, distance }) =>
    (value, side) => {
      const own = walks[side].marks.find(
        (mark) =>
          mark.light === light &&
          mark.reference === reference &&
          Math.abs(mark.distance - distance) <= ONE_MARK_M + 1e-9,
      )
      return own === undefined ? figures.plainDensity(value) : figures.density(own.density).value
    }
}

/** A compared figure as five cells: before, after, its change, the interval of that, and whether it is significant; `none` stands where it was not measured. */
export function comparedCells(figure: ComparedFigure | null, print: PrintSide, none: string): string[] {
  if (figure === null) return [none, none, '', '', '']
  const { before, after, significant } = figure
  const { change, interval } = changeInPrint(figure)
  return [print(before, 0), print(after, 1), change, interval, significant ? 'yes' : 'no']
}
