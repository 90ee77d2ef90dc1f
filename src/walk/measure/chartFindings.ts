import { chartPaper } from '../../chart/printed/chartPapers.js'
import { trueFrameWidthM } from '../../measure/reference/chartReference.js'
import { isChart } from '../../measure/reference/reference.js'
import type { Problem } from '../../measure/stillMeasurement.js'
import { INCH_M } from '../../units/formatLength.js'
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
      const mm = `${(lengthM * 1000).toFixed(1)} mm`
      return walk.units === 'imperial' ? `${(lengthM / INCH_M).toFixed(2)} in (${mm})` : mm
    }
    const { printedWidthM } = reference.chart
    if (printedWidthM === null) {
      const message = `${reference.name}: nobody taped the ${paper.name} chart, so ${taped(trueM)} is taken for its frame; tape it and write printedWidth`
      return [{ code: 'chart-untaped', message }]
    }
    const scale = printedWidthM / trueM
    if (Math.abs(scale - 1) <= TOLD_SCALE) return []
    const message = `${reference.name}: the ${paper.name} chart was printed at ${(100 * scale).toFixed(1)} %, ${taped(printedWidthM)} instead of ${taped(trueM)}; measured with the taped width`
    return [{ code: 'chart-scaled', message }]
  })
}
