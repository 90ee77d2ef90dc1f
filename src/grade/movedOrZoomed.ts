import { fitWeightedLine } from '../math/weightedLine.js'
import { signedPercent } from './changeWords.js'
import type { ComparedSeries } from './comparison.js'
import type { Compared } from './comparisonFindings.js'
import { wording } from './wording.js'

/**
 * A density that changed everywhere, in words: by the same share at every mark, as a zoom does, or more near by than far off, as a camera does that moved along
 * its view; where the marks cannot tell, both are named.
 */
export function movedOrZoomed(changed: readonly ComparedSeries[], { shared, after }: Compared): string {
  const strongest = changed.reduce((most, each) =>
    Math.abs(each.density.change) > Math.abs(most.density.change) ? each : most,
  )
  const { change, low, high } = strongest.density
  const head = `another density everywhere, ${signedPercent(change)} (${signedPercent(low)} to ${signedPercent(high)})`
  // ln(after / before) = ln(zoom) + nearer / distance, to first order.
  const line = fitWeightedLine(
    shared.map(({ pair, density }) => ({
      x: 1 / pair.before.lineOfSightM,
      y: density.logRatio,
      weight: 1 / Math.hypot(density.ownRel, ...density.common) ** 2,
    })),
  )
  const cause = `: the camera was moved or zoomed`
  if (!line.ok) return head + cause
  const { slope, slopeVariance, intercept, interceptVariance } = line.value
  const say = wording(after.units)
  const slopeU = 2 * Math.sqrt(slopeVariance)
  if (Math.abs(slope) > slopeU && Math.abs(intercept) < 2 * Math.sqrt(interceptVariance)) {
    const way = slope > 0 ? 'nearer to' : 'farther from'
    return `${head}, more near by than far off: the camera stands some ${say.length(Math.abs(slope))} ${way} the marks`
  }
  const zoomed = Math.abs(intercept) > 2 * Math.sqrt(interceptVariance) && Math.abs(slope) < slopeU
  return zoomed ? `${head}, by the same share near and far: it was zoomed, or its lens changed` : head + cause
}
