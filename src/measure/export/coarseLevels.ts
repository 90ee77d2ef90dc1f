import type { Raster } from '../../still/raster.js'
import type { Problem } from '../stillMeasurement.js'
import { problem } from '../../sentences.js'
import { measureSays } from '../sentences.js'

/** Codes count as in use from this share of the pixels on; so many must be in use, and so few have a neighbour in use. This project's convention. */
const USED_SHARE = 0.002
const LEAST_USED = 6
const ENOUGH_PIXELS = 4000
const MOST_NEIGHBOURS = 0.1

/**
 * Whether code values stand in coarse steps, as after a screenshot with few colours or a re-encoded export: of the codes in use hardly any has its
 * neighbour in use. Null where they do not.
 */
export function coarseLevels(raster: Raster): Problem | null {
  const { data } = raster
  // Of a large raster some pixels; an odd step, so that not always the same columns are met.
  const every = 2 * Math.floor(data.length / ENOUGH_PIXELS / 2) + 1
  const count = new Uint32Array(258)
  for (let at = 0; at < data.length; at += every) {
    const bin = (data[at]! + 1.5) | 0
    count[bin < 1 ? 1 : bin > 256 ? 256 : bin]! += 1
  }
  const least = Math.max(4, (USED_SHARE * data.length) / every)
  const used = [...count.keys()].filter((bin) => count[bin]! >= least)
  const beside = used.filter(
    (bin) => (count[bin - 1] ?? 0) >= least / 8 || (count[bin + 1] ?? 0) >= least / 8,
  )
  if (used.length < LEAST_USED || beside.length > MOST_NEIGHBOURS * used.length) return null
  return problem(measureSays['coarse-levels']())
}
