import { problem } from '../../sentences.js'
import type { Problem } from '../../measure/stillMeasurement.js'
import { figuresFor } from '../../units/figures.js'
import type { Walk } from '../read/walk.js'
import { measuringSays } from './sentences.js'

/** What was added to every taped distance, where the tape begins elsewhere than at the lens. */
export function beginsFindings({ distance: { beginsM }, units }: Walk): Problem[] {
  if (beginsM === 0) return []
  const by = figuresFor(units).distance(Math.abs(beginsM))
  return [problem(measuringSays['begins-added'](by, beginsM > 0))]
}
