import type { Problem } from '../stillMeasurement.js'
import type { SnappedSide } from './snapSide.js'
import { problem } from '../../sentences.js'
import { measureSays } from '../sentences.js'

/** A side moved farther than this was not clicked on the edge it went to, px: three standard deviations of a click. */
const FAR_PX = 1.5

/** What the person who looks at a snapped outline should check before taking it. */
export function snapRemarks(sides: readonly SnappedSide[], names: readonly string[]): Problem[] {
  const named = sides.map(({ rivalPx, movedPx }, i) => ({ side: names[i]!, rivalPx, movedPx }))
  const rivals = named.flatMap(({ side, rivalPx }) =>
    rivalPx === null ? [] : [{ side, outwardPx: rivalPx }],
  )
  const far = named.filter(({ movedPx }) => movedPx > FAR_PX)
  return [
    ...(rivals.length > 0 ? [problem(measureSays['snap-other-edge'](rivals))] : []),
    ...(far.length > 0 ? [problem(measureSays['snap-moved-far'](far))] : []),
  ]
}
