import type { Quad } from '../../math/point.js'
import { mapPoint, type Homography } from '../../math/homography.js'

/** A chart found in a still. */
export interface FoundChart {
  /** Modules to image coordinates of the still, px. */
  readonly map: Homography
  /** Outer corners of the frame, clockwise from the chart's own top left, px. */
  readonly corners: Quad
  /** Pixels per module at the chart's middle: the geometric mean of both axes. */
  readonly pixelsPerModule: number
  /** The chart's face, 0..7, and whether it was read beyond doubt. */
  readonly face: number
  readonly faceSure: boolean
  /** Correlation of the match, 0..1, and the share of the chart that was in sight. */
  readonly correlation: number
  readonly kept: number
  /** The template's blur that agreed best, modules. */
  readonly sigmaModules: number
  /** Lowest correlation of one of the chart's parts. */
  readonly worstWindow: number
  /** From ink to paper, code values. */
  readonly contrastDn: number
}

/** Charts whose middles lie apart; of several matches on one chart the best. */
export function distinctCharts(charts: readonly FoundChart[]): FoundChart[] {
  const kept: FoundChart[] = []
  for (const chart of [...charts].sort((a, b) => b.correlation - a.correlation)) {
    const [x, y] = middle(chart)
    const near = kept.some((other) => {
      const [u, v] = middle(other)
      return Math.hypot(x - u, y - v) < 5 * Math.max(other.pixelsPerModule, chart.pixelsPerModule)
    })
    if (!near) kept.push(chart)
  }
  return kept
}

/** Whether a match (modules to pixels of a scale halved `level` times) lies on a found chart. */
export function sameChart(chart: FoundChart, map: Homography, level: number): boolean {
  const [x, y] = middle(chart)
  const [u, v] = mapPoint(map, 7, 5)
  return Math.hypot(x - u * 2 ** level, y - v * 2 ** level) < 5 * chart.pixelsPerModule
}

function middle(chart: FoundChart): readonly [number, number] {
  const x = chart.corners.reduce((sum, corner) => sum + corner[0], 0) / 4
  const y = chart.corners.reduce((sum, corner) => sum + corner[1], 0) / 4
  return [x, y]
}

/** Whether a chart's frame lies in the picture, px: what the edge cuts looks like other charts, even like one in a mirror. */
export function isInside(
  corners: Quad,
  { width, height }: { readonly width: number; readonly height: number },
): boolean {
  return corners.every(([x, y]) => x >= 0 && y >= 0 && x <= width && y <= height)
}
