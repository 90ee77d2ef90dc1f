import type { PlotScale } from '../../plot/plotScales.js'

/** The plot's scales and its field, points on the page. */
export interface PlotField {
  readonly x: PlotScale
  readonly y: PlotScale
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}
