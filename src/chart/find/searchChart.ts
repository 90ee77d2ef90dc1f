import { type Outcome, failure, success } from '../../math/outcome.js'
import type { MatchedChart } from '../match/chartCandidate.js'
import { mirrorImage } from '../match/greyImage.js'
import type { BoxSeed } from './boxSeeds.js'
import { fartherCharts } from './fartherCharts.js'
import { type FoundChart, distinctCharts, sameChart } from './foundChart.js'
import {
  ANY_DARKNESS,
  CLEAR_DARKNESS,
  FAINT_DARKNESS,
  frameCandidates,
  frameStarts,
  type Darkness,
  type ChartSight,
} from './frameCandidates.js'
import { searchPicture, type SearchPicture } from './searchPicture.js'
import { searchScales, type SearchScale, type SearchScales } from './searchScale.js'
import { chartSeeds, seededCandidates } from './seededCandidates.js'
import { verifyChart } from './verifyChart.js'
import { chartSays } from '../sentences.js'

export type NoChart = 'no-chart' | 'two-charts' | 'mirrored-chart'

/** Matches of a scale that are verified, the best first. */
const MOST_VERIFIED = 8
/** Larger scales are not searched for box seeds, nor a second time for frames: what that finds is worth their cost only where it is small. */
const MOST_SEEDED_PIXELS = 1e6
const MOST_SECOND_PIXELS = 1e6
/** Places that look like a chart in a mirror which are looked into. */
const MOST_MIRRORED = 3
/** Beside a chart, a second one is looked for only where the picture spans this share of its contrast: the first in half its light and blurred still does. Set on simulated pairs. */
const SECOND_CONTRAST = 0.2
/** Noise of the still's own pixels against that of half size, where each is the mean of four. */
const FULL_SIZE_NOISE = 2
/** Samples whose residual is over so many median ones are taken for something that covers the chart. */
const TRIM = 3.5

/**
 * Looks for the printed chart in a picture. Coarse to fine: at each scale dark pieces on light ground are outlined, tried as the chart's frame and
 * refined against templates; it stops at half size where a chart was verified by then. Only where nothing was found, a mirrored one is looked for, and
 * one from box seeds, at last with covered parts left out. Image coordinates: (0,0) is the outer corner of the top-left pixel. Fails where
 * there is none, where two are in view, and where it is seen in a mirror.
 */
export function searchChart(picture: SearchPicture): Outcome<FoundChart, NoChart> {
  const scales = searchScales(picture)
  const mirrors: ChartSight[] = []
  for (const darkness of [ANY_DARKNESS, FAINT_DARKNESS, CLEAR_DARKNESS]) {
    const framed = framedCharts(picture, scales, darkness, mirrors)
    if (framed.length > 0) return theOnly(framed)
  }
  const likeliest = mirrors.sort((a, b) => b.correlation - a.correlation).slice(0, MOST_MIRRORED)
  if (likeliest.some((sight) => isMirrored(picture, sight))) return failure(chartSays['mirrored-chart']())
  const seeds: (readonly BoxSeed[])[] = []
  for (const trim of [undefined, TRIM])
    for (let level = scales.count - 1; level >= 1; level -= 1) {
      const { image } = scales.at(level)
      if (image.width * image.height > MOST_SEEDED_PIXELS) break
      const places = (seeds[level] ??= chartSeeds(image))
      const scale = scales.at(level - 1)
      const matches = seededCandidates(scale, places, trim)
      const charts = verifiedCharts(picture, scales, scale, matches)
      if (charts.length > 0) return theOnly(charts)
    }
  return failure(chartSays['no-chart']())
}

/**
 * Charts whose frame shows as a dark piece. Where a coarse scale holds one, a second may be farther off and smaller: it is looked for down to half size, and at full
 * size, which costs more than all others together, only where half size gives a hint of it.
 */
function framedCharts(
  picture: SearchPicture,
  scales: SearchScales,
  darkness: Darkness,
  mirrors: ChartSight[],
): FoundChart[] {
  let found: FoundChart[] = []
  const farther: ChartSight[] = []
  for (let level = scales.count - 1; level >= 0; level -= 1) {
    const leastSpanDn = found.length === 0 ? 0 : SECOND_CONTRAST * found[0]!.contrastDn
    if (found.length > 0 && level === 0) {
      const noiseDn = FULL_SIZE_NOISE * scales.at(1).noiseDn
      frameStarts(scales.at(1), { darkness: FAINT_DARKNESS, mirrors: [], farther, leastSpanDn })
      const more = fartherCharts(picture, farther, found, noiseDn)
      return distinctCharts([...found, ...more])
    }
    const scale = scales.at(level)
    if (darkness !== ANY_DARKNESS && scale.image.width * scale.image.height > MOST_SECOND_PIXELS) continue
    const search = { darkness, mirrors, leastSpanDn, ...(level === 1 ? { farther } : {}) }
    const matches = frameCandidates(scale, search)
    found = distinctCharts([...found, ...verifiedCharts(picture, scales, scale, matches)])
    if (found.length > 1) break
  }
  return found
}

function verifiedCharts(
  picture: SearchPicture,
  scales: SearchScales,
  scale: SearchScale,
  matches: readonly MatchedChart[],
): FoundChart[] {
  const found: FoundChart[] = []
  const best = [...matches].sort((a, b) => b.correlation - a.correlation)
  let verified = 0
  for (const match of best) {
    if (verified >= MOST_VERIFIED) break
    if (found.some((chart) => sameChart(chart, match.map, scale.level))) continue
    verified += 1
    const chart = verifyChart(scale, picture, match, scales)
    if (chart !== null) found.push(chart)
  }
  return distinctCharts(found)
}

/** Whether the place, flipped, holds a chart. */
function isMirrored(picture: SearchPicture, sight: ChartSight): boolean {
  const flipped = searchPicture(mirrorImage(picture.lumaRegion(sight.region)))
  return framedCharts(flipped, searchScales(flipped), ANY_DARKNESS, []).length > 0
}

function theOnly(found: readonly FoundChart[]): Outcome<FoundChart, NoChart> {
  if (found.length > 1) return failure(chartSays['two-charts']())
  return success(found[0]!)
}
