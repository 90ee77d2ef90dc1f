import { isInside, type FoundChart } from '../../chart/find/foundChart.js'
import { searchPicture } from '../../chart/find/searchPicture.js'
import { searchChart, type NoChart } from '../../chart/find/searchChart.js'
import { oneField } from '../../chart/match/greyImage.js'
import { CHART_PAPERS, chartPaper } from '../../chart/printed/chartPapers.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import type { MeasuredChart } from '../../measure/chart/measureChart.js'
import { hasTornRows } from '../../measure/export/tornRows.js'
import type { ChartReference } from '../../measure/reference/reference.js'
import type { StillFile } from '../../still/openStill.js'
import type { StillPixels } from '../../still/raster.js'
import type { WholeStill } from '../../still/wholeStill.js'
import type { ChartSearch } from '../stills/stillTask.js'
import { measuringSays } from './sentences.js'
import { measureFoundChart, type NoFoundChart } from './measureFoundChart.js'

/** A chart found in a still: which one, what it tells, and the still, decoded by now. */
export interface StillChart {
  readonly pixels: StillPixels
  readonly reference: ChartReference
  readonly chart: MeasuredChart
}

export type NoStillChart =
  | 'chart-none'
  | 'chart-two'
  | 'chart-mirrored'
  | 'chart-other-paper'
  | 'chart-which'
  | 'chart-covered'
  | 'chart-bent'
  | 'chart-too-blurred'
  | 'chart-no-fit'
  | 'interlaced'

/**
 * Decodes the whole still once, looks for the chart and reads it. Fails with a code and the mend where there is none to be trusted.
 * @throws `ProofwalkError` `still-damaged` where the pixels turn out spoilt
 */
export async function findStillChart(
  still: Pick<StillFile, 'whole'>,
  search: ChartSearch,
): Promise<Outcome<StillChart, NoStillChart>> {
  const whole = await still.whole()
  const found = searchChart(whole)
  if (!found.ok)
    return (found.code === 'no-chart' ? tornChart(whole) : null) ?? notFound(found.code, search.elseMend)
  const reference = whichChart(found.value, search.charts)
  if (!reference.ok) return reference
  const paper = chartPaper(reference.value.chart.paper)!
  const chart = measureFoundChart(whole, found.value, paper)
  if (!chart.ok)
    return (
      (chart.code === 'other-paper' ? null : tornChart(whole)) ??
      notMeasured(chart.code, found.value, paper.name)
    )
  if (!isInside(chart.value.pick.corners, whole)) return notFound('no-chart', search.elseMend)
  return success({ pixels: whole, reference: reference.value, chart: chart.value })
}

/** Why a chart that shows in one field of a still is not to be read in both; null where it shows in neither, or the rows of both go together. */
function tornChart(whole: WholeStill): Outcome<never, 'interlaced'> | null {
  if (!hasTornRows(whole.searchBytes())) return null
  const picture = whole.lumaRegion({ left: 0, top: 0, width: whole.width, height: whole.height })
  const found = searchChart(searchPicture(oneField(picture)))
  return found.ok ? failure(measuringSays['chart-torn']()) : null
}

/** The walk's only chart, else the one whose paper the found chart's face tells. */
function whichChart(
  found: FoundChart,
  charts: readonly ChartReference[],
): Outcome<ChartReference, 'chart-which' | 'chart-other-paper'> {
  const [first] = charts
  if (charts.length === 1) return success(first!)
  const names = charts.map(({ name }) => name).join(', ')
  const ofFace = charts.filter(({ chart }) => chartPaper(chart.paper)?.face === found.face)
  if (found.faceSure && ofFace.length === 1) return success(ofFace[0]!)
  if (found.faceSure && ofFace.length === 0)
    return failure(measuringSays['chart-of-none'](paperName(found), names))
  return failure(measuringSays['chart-which'](names))
}

/** What a search or a fit that told nothing but its code is told as. */
const TOLD_AS = {
  'two-charts': 'chart-two',
  'mirrored-chart': 'chart-mirrored',
  bent: 'chart-bent',
  'chart-covered': 'chart-covered',
  'too-blurred': 'chart-too-blurred',
  'not-determined': 'chart-no-fit',
  'not-converged': 'chart-no-fit',
} as const

function notFound(code: NoChart, elseMend: string | null): Outcome<never, NoStillChart> {
  return failure(code === 'no-chart' ? measuringSays['chart-none'](elseMend) : measuringSays[TOLD_AS[code]]())
}

function notMeasured(code: NoFoundChart, found: FoundChart, paper: string): Outcome<never, NoStillChart> {
  return failure(
    code === 'other-paper'
      ? measuringSays['chart-other-paper'](paperName(found), paper)
      : measuringSays[TOLD_AS[code]](),
  )
}

function paperName({ face }: FoundChart): string {
  return CHART_PAPERS.find((one) => one.face === face)?.name ?? 'unknown'
}
