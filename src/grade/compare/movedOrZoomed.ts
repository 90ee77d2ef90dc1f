import { alongView } from './alongView.js'
import { signedPercent } from './changeWords.js'
import type { ComparedSeries, Compared } from './comparison.js'
import { wording } from '../wording.js'

/**
 * A density that changed everywhere, in words: by the same share at every mark, as a zoom does, or more near by than far off, as a camera does that moved along
 * its view; where the marks cannot tell, both are named.
 */
export function movedOrZoomed(changed: readonly ComparedSeries[], { shared, after }: Compared): string {
  const strongest = changed.reduce((most, each) =>
    Math.abs(each.density.change) > Math.abs(most.density.change) ? each : most,
  )
  const { change, low, high } = strongest.density
  const head = `another density everywhere, ${signedPercent(change)}`
  const interval = ` (${signedPercent(low)} to ${signedPercent(high)})`
  const along = alongView(shared)
  const moved = along !== null && Math.abs(along.nearerM) > 2 * along.nearerU
  const zoomed = along !== null && Math.abs(along.zoomLog) > 2 * along.zoomU
  if (moved && !zoomed) {
    const say = wording(after.units)
    const way = along.nearerM > 0 ? 'nearer to' : 'farther from'
    const by = say.length(Math.round(Math.abs(along.nearerM) * 20) / 20)
    return `${head} on the whole, more near by than far off: the camera stands some ${by} ${way} the marks`
  }
  return zoomed && !moved
    ? `${head}${interval}, by the same share near and far: it was zoomed, or its lens changed`
    : `${head}${interval}: the camera was moved or zoomed`
}
