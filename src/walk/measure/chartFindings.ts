import { chartPaper } from '../../chart/printed/chartPapers.js'
import { trueFrameWidthM } from '../../measure/reference/chartReference.js'
import { isChart } from '../../measure/reference/reference.js'
import type { Problem } from '../../measure/stillMeasurement.js'
import { problem } from '../../sentences.js'
import { INCH_M } from '../../units/formatLength.js'
import { printedValue } from '../../units/printedEstimate.js'
import { measuringSays } from './sentences.js'
import type { Walk } from '../read/walk.js'

/** A taped width farther than this from true scale is told: this project's convention. */
const TOLD_SCALE = 0.005

/** What the reader should know of the charts that were measured: printed at another scale, or not taped after printing. */
export function chartFindings(
  walk: Walk,
  measured: readonly { readonly reference: string }[],
): readonly Problem[] {
  return walk.references.flatMap(({ reference }): Problem[] => {
    if (!isChart(reference) || !measured.some((still) => still.reference === reference.name)) return []
    const paper = chartPaper(reference.chart.paper)
    if (paper === undefined) return []
    const trueM = trueFrameWidthM(paper)
    const taped = (lengthM: number): string => {
      const mm = `${printedValue(lengthM * 1000, 1)} mm`
      return walk.units === 'imperial' ? `${printedValue(lengthM / INCH_M, 2)} in (${mm})` : mm
    }
    const { printedWidthM } = reference.chart
    if (printedWidthM === null)
      return [problem(measuringSays['chart-untaped'](reference.name, paper.name, taped(trueM)))]
    const scale = printedWidthM / trueM
    if (Math.abs(scale - 1) <= TOLD_SCALE) return []
    const widths = [taped(printedWidthM), taped(trueM)] as const
    return [problem(measuringSays['chart-scaled'](reference.name, paper.name, scale, ...widths))]
  })
}
