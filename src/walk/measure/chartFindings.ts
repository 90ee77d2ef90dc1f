import { chartPaper } from '../../chart/printed/chartPapers.js'
import { isByDay } from '../../chart/printed/chartReach.js'
import type { WalkFinding } from '../../grade/judgement.js'
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

/** Lights that are not day, with a promise by detail and stills of a chart, and no strips in them: detail there rests on strong edges. */
export function stripsMissing(
  walk: Pick<Walk, 'judge' | 'promises' | 'references'>,
  measured: readonly { readonly reference: string; readonly light: string }[],
): readonly WalkFinding[] {
  if (walk.judge !== 'detail') return []
  const sheets = walk.references.map(({ reference }) => reference).filter((one) => one.kind === 'rectangle')
  const lights = new Set(walk.promises.map(({ light }) => light).filter((light) => !isByDay(light)))
  return [...lights].flatMap((light): WalkFinding[] => {
    const seen = sheets.filter(({ name }) =>
      measured.some((still) => still.light === light && still.reference === name),
    )
    const chart = seen.find(isChart)
    if (chart === undefined || seen.some(({ strip }) => strip !== undefined)) return []
    return [{ ...problem(measuringSays['strips-missing'](light, chart.chart.paper)), light }]
  })
}

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
