import { alongView } from './alongView.js'
import { type Said } from '../../sentences.js'
import { figuresFor } from '../../units/figures.js'
import { gradeSays } from '../sentences.js'
import { changeInPrint, changeWithInterval } from './changeWords.js'
import type { ComparedSeries, Compared } from './comparison.js'

/**
 * A density that changed everywhere, in a sentence: by the same share at every mark, as a zoom does, or more near by than far off, as a camera does that moved along
 * its view; where the marks cannot tell, both are named.
 */
export function movedOrZoomed(changed: readonly ComparedSeries[], { shared, after }: Compared): Said {
  const strongest = changed.reduce((most, each) =>
    Math.abs(each.density.change) > Math.abs(most.density.change) ? each : most,
  )
  const along = alongView(shared)
  const moved = along !== null && Math.abs(along.nearerM) > 2 * along.nearerU
  const zoomed = along !== null && Math.abs(along.zoomLog) > 2 * along.zoomU
  if (moved && !zoomed) {
    const { reach, lengthUnit } = figuresFor(after.units)
    const [byM, U] = [Math.abs(along.nearerM), 2 * along.nearerU]
    const by = `${reach({ value: byM, low: byM - U, high: byM + U }).value} ${lengthUnit}`
    return gradeSays.moved(changeInPrint(strongest.density).change, by, along.nearerM > 0)
  }
  const change = changeWithInterval(strongest.density)
  return zoomed && !moved ? gradeSays.zoomed(change) : gradeSays['moved-or-zoomed'](change)
}
