import { isInside, type FoundChart } from '../../chart/find/foundChart.js'
import { searchChart, type NoChart } from '../../chart/find/searchChart.js'
import { CHART_PAPERS, chartPaper } from '../../chart/printed/chartPapers.js'
import { failure, success, type Outcome } from '../../math/outcome.js'
import type { MeasuredChart } from '../../measure/chart/measureChart.js'
import type { ChartReference } from '../../measure/reference/reference.js'
import type { StillFile } from '../../still/openStill.js'
import type { StillPixels } from '../../still/raster.js'
import type { ChartSearch } from '../stills/stillTask.js'
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
  if (!found.ok) return notFound(found.code, search.elseMend)
  const reference = whichChart(found.value, search.charts)
  if (!reference.ok) return reference
  const paper = chartPaper(reference.value.chart.paper)!
  const chart = measureFoundChart(whole, found.value, paper)
  if (!chart.ok) return notMeasured(chart.code, found.value, paper.name)
  if (!isInside(chart.value.pick.corners, whole)) return notFound('no-chart', search.elseMend)
  return success({ pixels: whole, reference: reference.value, chart: chart.value })
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
    return failure('chart-other-paper', `${saidPaper(found)}, which none of ${names} is; correct walk.yaml`)
  const mend = 'name it under stills in walk.yaml'
  return failure('chart-which', `which of ${names} the chart is cannot be read at this size; ${mend}`)
}

function notFound(code: NoChart, elseMend: string | null): Outcome<never, NoStillChart> {
  switch (code) {
    case 'no-chart': {
      const mend =
        "show it whole (one whose frame the picture's edge cuts is not found), uncovered and evenly lit, at 1.5 px a module at least by day and 2.5 in the dark"
      const other = elseMend === null ? '' : `, or ${elseMend}`
      return failure('chart-none', `no chart was found in this still; ${mend}${other}`)
    }
    case 'two-charts':
      return failure(
        'chart-two',
        'two charts are in view, so neither is measured; show one alone, or give the corners of one in picks.json',
      )
    case 'mirrored-chart':
      return failure(
        'chart-mirrored',
        'the chart is seen in a mirror, or the still is flipped; export it unflipped, or show the chart itself',
      )
  }
}

function notMeasured(code: NoFoundChart, found: FoundChart, paper: string): Outcome<never, NoStillChart> {
  switch (code) {
    case 'other-paper':
      return failure(
        'chart-other-paper',
        `${saidPaper(found)}, not the ${paper} one that is asked for; correct the paper, or show the right chart`,
      )
    case 'bent':
      return failure('chart-bent', 'the chart is bent, so its density is not told; hold it flat, on a board')
    case 'chart-covered':
      return failure(
        'chart-covered',
        'too much of the chart is covered, or lies in another light; show it whole',
      )
    case 'too-blurred':
      return failure(
        'chart-too-blurred',
        'the chart is too blurred for its size; show it nearer, or a larger one',
      )
    case 'not-determined':
    case 'not-converged':
      return failure(
        'chart-no-fit',
        'the chart was seen but cannot be measured: too faint, curled, or in broken light; hold it flat and evenly lit',
      )
  }
}

function saidPaper({ face }: FoundChart): string {
  const paper = CHART_PAPERS.find((one) => one.face === face)
  return `the chart in this still is the ${paper?.name ?? 'unknown'} one`
}
