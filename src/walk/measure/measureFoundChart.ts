import type { FoundChart } from '../../chart/find/foundChart.js'
import type { ChartFit } from '../../chart/fit/chartFit.js'
import type { ChartPaper } from '../../chart/printed/chartPapers.js'
import { success, type Outcome } from '../../math/outcome.js'
import { movedHomography } from '../../math/homography.js'
import type { Quad } from '../../math/point.js'
import { flattenChart, MOST_UNEXPLAINED } from '../../measure/chart/flattenChart.js'
import { measureChart, type MeasuredChart, type NoMeasuredChart } from '../../measure/chart/measureChart.js'
import { problem } from '../../sentences.js'
import type { PixelRegion } from '../../still/raster.js'
import type { WholeStill } from '../../still/wholeStill.js'
import { measuringSays } from './sentences.js'

export type NoFoundChart = NoMeasuredChart | 'bent'

/** Less of the chart's pixels than this is seen only where something lies over it: this project's convention. */
const LEAST_CLEAR = 0.98
const COVER_WIDENING = 2
/** So much left unexplained is a cover or a shadow; codecs and noise reduction alone leave up to 7.7 (simulated: bench/results/video.md). */
const LEAST_COVERED = 8

/** Modules of surroundings the measurement may look at, beyond the frame. */
const MODULES_AROUND = 6

/**
 * Measures a found chart in its own surroundings, so that a large still is never unfolded whole into exact luma. Coordinates are the
 * still's, going in and coming out.
 */
export function measureFoundChart(
  whole: Pick<WholeStill, 'lumaRegion' | 'width' | 'height'>,
  found: FoundChart,
  paper: ChartPaper,
): Outcome<MeasuredChart, NoFoundChart> {
  const region = whole.lumaRegion(regionAround(found))
  const { left, top } = region
  const inRegion = {
    ...found,
    map: movedHomography(found.map, -left, -top),
    corners: movedQuad(found.corners, -left, -top),
  }
  const still = {
    middle: [whole.width / 2 - left, whole.height / 2 - top] as const,
    halfDiagonalPx: Math.hypot(whole.width, whole.height) / 2,
  }
  const measured = measureChart(region, inRegion, paper, still)
  if (!measured.ok) return measured
  const flat = flattenChart(measured.value)
  if (!flat.ok) return flat
  const chart = withCover(flat.value)
  const { pick, fit } = chart
  return success({ ...chart, pick: movedPick(pick, left, top), fit: movedFit(fit, left, top) })
}

function movedPick(pick: MeasuredChart['pick'], dx: number, dy: number): MeasuredChart['pick'] {
  const corners = movedQuad(pick.corners, dx, dy)
  const seen = pick.flattened?.seen ?? null
  if (seen === null) return { ...pick, corners }
  return { ...pick, corners, flattened: { seen: { ...seen, corners: movedQuad(seen.corners, dx, dy) } } }
}

function movedFit(fit: ChartFit, dx: number, dy: number): ChartFit {
  const { view } = fit
  const moved = { ...fit, corners: movedQuad(fit.corners, dx, dy), map: movedHomography(fit.map, dx, dy) }
  if (view === null) return moved
  const { lens, middle } = view
  return {
    ...moved,
    view: {
      lens: { ...lens, centreX: lens.centreX + dx, centreY: lens.centreY + dy },
      middle: [middle[0] + dx, middle[1] + dy],
    },
  }
}

/** A chart that something lies over, told where nothing tells of it yet, and stated less surely: its rim may be taken for the chart's own. */
function withCover(chart: MeasuredChart): MeasuredChart {
  const { problems, fit, pick, bend } = chart
  const unexplained = bend?.unexplained ?? 1
  const isClear = fit.kept >= LEAST_CLEAR && !fit.trimmed.includes(true) && unexplained < LEAST_COVERED
  // Light that falls unevenly is told already; a hand may look like it.
  if (isClear || fit.unevenLight) return chart
  const told = [...problems, problem(measuringSays['chart-part-covered']())]
  if (unexplained > MOST_UNEXPLAINED) return { ...chart, problems: told }
  const covariancePx2 = pick.covariancePx2?.map((row) => row.map((value) => COVER_WIDENING * value))
  return {
    ...chart,
    pick: {
      ...pick,
      sigmaPx: pick.sigmaPx * Math.sqrt(COVER_WIDENING),
      ...(covariancePx2 === undefined ? {} : { covariancePx2 }),
    },
    problems: told,
  }
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
