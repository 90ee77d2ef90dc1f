import type { ChartPaper } from '../chart/chartPapers.js'
import type { FoundChart } from '../chart/foundChart.js'
import { movedMap } from '../chart/planeMap.js'
import { success, type Outcome } from '../math/outcome.js'
import type { Quad } from '../math/point.js'
import { measureChart, type MeasuredChart, type NoMeasuredChart } from '../measure/measureChart.js'
import type { PixelRegion } from '../still/raster.js'
import type { WholeStill } from '../still/wholeStill.js'

/** Modules of surroundings the measurement may look at, beyond the frame. */
const MODULES_AROUND = 6

/**
 * Measures a found chart in its own surroundings, so that a large still is never unfolded whole into exact luma. Coordinates are the
 * still's, going in and coming out.
 */
export function measureFoundChart(
  whole: WholeStill,
  found: FoundChart,
  paper: ChartPaper,
): Outcome<MeasuredChart, NoMeasuredChart> {
  const region = whole.lumaRegion(regionAround(found))
  const { left, top } = region
  const inRegion = {
    ...found,
    map: movedMap(found.map, -left, -top),
    corners: movedQuad(found.corners, -left, -top),
  }
  const measured = measureChart(region, inRegion, paper)
  if (!measured.ok) return measured
  const { pick, fit } = measured.value
  return success({
    ...measured.value,
    pick: { ...pick, corners: movedQuad(pick.corners, left, top) },
    fit: { ...fit, corners: movedQuad(fit.corners, left, top), map: movedMap(fit.map, left, top) },
  })
}

function regionAround({ corners, pixelsPerModule }: FoundChart): PixelRegion {
  const xs = corners.map((corner) => corner[0])
  const ys = corners.map((corner) => corner[1])
  const margin = MODULES_AROUND * pixelsPerModule + 16
  const left = Math.floor(Math.min(...xs) - margin)
  const top = Math.floor(Math.min(...ys) - margin)
  return {
    left,
    top,
    width: Math.ceil(Math.max(...xs) + margin) - left,
    height: Math.ceil(Math.max(...ys) + margin) - top,
  }
}

function movedQuad([a, b, c, d]: Quad, dx: number, dy: number): Quad {
  const moved = ([x, y]: Quad[0]): Quad[0] => [x + dx, y + dy]
  return [moved(a), moved(b), moved(c), moved(d)]
}
