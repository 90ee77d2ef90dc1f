import { failure, success, type Outcome } from '../math/outcome.js'
import { chartTemplates, type ChartTemplate, type TemplateSet } from './chartTemplate.js'
import { distinctCharts, type FoundChart } from './foundChart.js'
import { frameCandidates, THRESHOLDS } from './frameCandidates.js'
import { mirrorImage, type GreyImage } from './greyImage.js'
import { searchScale, searchScales, type SearchScale } from './searchScale.js'
import { seededCandidates } from './seededCandidates.js'
import { verifyChart } from './verifyChart.js'

export type { FoundChart } from './foundChart.js'

export type NoChart = 'no-chart' | 'two-charts' | 'mirrored-chart'

/** What can be set; all have defaults. */
export interface FindOptions {
  readonly leastCorrelation?: number
}

/** Template blurs, modules: for the first approach, for middling and near charts, and for soft and turned ones. */
const BLURS_MODULES = [0.7, 0.45, 0.25, 1]
const SAMPLE_STEP_MODULES = 0.5
/** Samples of the first look at an outline, which most do not survive. */
const GLANCE_STEP_MODULES = 1
/** A match at or over this correlation is a chart: impostors reach less, charts at the limits of finding more (measured). */
const LEAST_CORRELATION = 0.82
/** A candidate goes to verification from this far below the correlation a chart must have. */
const CANDIDATE_SLACK = 0.1
/** Samples whose residual is over so many median ones are taken for something that covers the chart. */
const TRIM = 3.5

/**
 * Finds the printed chart in a still. Coarse to fine: at each scale dark pieces on light ground are outlined, tried as the chart's frame and
 * refined against templates; it stops at the scale where a chart is verified. Only where nothing was found is it looked for again, with another
 * threshold, then from box seeds, then from box seeds with covered parts left out. Image coordinates: (0,0) is the outer corner of the
 * top-left pixel. Fails where there is none, where two are in view, and where it is seen in a mirror.
 */
export function findChart(image: GreyImage, options: FindOptions = {}): Outcome<FoundChart, NoChart> {
  const least = options.leastCorrelation ?? LEAST_CORRELATION
  const { sets, glance } = searchTemplates()
  const scales = searchScales(image)
  const coarseFirst = [...scales].reverse()
  const mirrors: SearchScale[] = []
  for (const threshold of THRESHOLDS) {
    for (const scale of coarseFirst) {
      const { matches, mirrorSeen } = frameCandidates(scale, glance, sets, least - CANDIDATE_SLACK, threshold)
      if (mirrorSeen) mirrors.push(scale)
      const found = matches.map((match) => verifyChart(scale, image, match, sets, least))
      const charts = distinctCharts(found.filter((chart) => chart !== null))
      if (charts.length > 0) return theOnly(charts)
    }
  }
  for (const scale of mirrors) {
    const turned = searchScale(mirrorImage(scale.image), 0)
    const { matches } = frameCandidates(turned, glance, sets, least - CANDIDATE_SLACK, THRESHOLDS[0]!)
    if (matches.some((match) => verifyChart(turned, turned.image, match, sets, least) !== null))
      return failure('mirrored-chart', 'the chart is seen in a mirror, or the still is flipped')
  }
  for (const trim of [undefined, TRIM]) {
    for (const coarse of coarseFirst) {
      const scale = scales[coarse.level - 1]
      if (scale === undefined) continue
      const matches = seededCandidates(coarse.image, scale, glance, sets, least - CANDIDATE_SLACK, trim)
      const found = matches.map((match) => verifyChart(scale, image, match, sets, least))
      const charts = distinctCharts(found.filter((chart) => chart !== null))
      if (charts.length > 0) return theOnly(charts)
    }
  }
  return failure('no-chart', 'no chart was found in this still')
}

interface SearchTemplates {
  readonly sets: readonly TemplateSet[]
  readonly glance: ChartTemplate
}

/** The templates of every search: constants, drawn when the first still asks for them, as few commands look for charts. */
const searchTemplates = ((): (() => SearchTemplates) => {
  let drawn: SearchTemplates | undefined
  return () =>
    (drawn ??= {
      sets: BLURS_MODULES.map((blur) => chartTemplates(blur, SAMPLE_STEP_MODULES)),
      glance: chartTemplates(BLURS_MODULES[0]!, GLANCE_STEP_MODULES).common,
    })
})()

function theOnly(found: readonly FoundChart[]): Outcome<FoundChart, NoChart> {
  if (found.length > 1) return failure('two-charts', 'two charts are in view, so neither is measured')
  return success(found[0]!)
}
