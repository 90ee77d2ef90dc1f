import { limitsOf } from '../../../grade/gradings/grading.js'
import { type Figures, figuresFor } from '../../../units/figures.js'
import type { WalkView } from '../../api.js'

/** The printer of the walk at hand, the same as of its tables and its sheet. */
export function walkFigures({ units, grading, promises }: WalkView): Figures {
  return figuresFor(
    units,
    limitsOf(grading),
    promises.map(({ distanceM }) => distanceM),
  )
}
