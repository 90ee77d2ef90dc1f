import { halveBytes } from '../../still/searchBytes.js'
import { frameCorners, type MatchedChart } from '../match/chartCandidate.js'
import { distinctCharts, type FoundChart } from './foundChart.js'
import { ANY_DARKNESS, frameCandidates, type ChartSight } from './frameCandidates.js'
import { movedHomography } from '../../math/homography.js'
import { searchPicture, type SearchPicture } from './searchPicture.js'
import type { SearchScale } from './searchScale.js'
import { verifyChart } from './verifyChart.js'

/** Sights looked into at most, the likeliest first. */
const MOST_SIGHTS = 32
/** Matches of a sight that are verified. */
const MOST_VERIFIED = 2

/**
 * Charts at the places that half size merely gives a hint of, looked into at the still's own size: beside a chart that was found at half size or less, a second one may
 * be farther off, and a whole search at full size would cost more than all before. `noiseDn`: of the still's own pixels.
 */
export function fartherCharts(
  picture: SearchPicture,
  sights: readonly ChartSight[],
  found: readonly FoundChart[],
  noiseDn: number,
): FoundChart[] {
  const charts: FoundChart[] = []
  const isKnown = (sight: ChartSight): boolean => [...found, ...charts].some((chart) => liesOn(sight, chart))
  const likeliest = [...sights].sort((a, b) => b.correlation - a.correlation)
  let looked = 0
  for (const sight of likeliest) {
    if (looked >= MOST_SIGHTS) break
    if (isKnown(sight)) continue
    looked += 1
    const region = picture.lumaRegion(sight.region)
    const { left, top } = region
    const local = searchPicture(region)
    const image = local.searchBytes()
    const scale: SearchScale = {
      image,
      half: halveBytes(image),
      level: 0,
      noiseDn,
      sampleVariance: (4 / 9) * noiseDn ** 2,
    }
    const matches = frameCandidates(scale, { darkness: ANY_DARKNESS, mirrors: [] })
    const best = matches.sort((a: MatchedChart, b: MatchedChart) => b.correlation - a.correlation)
    for (const match of best.slice(0, MOST_VERIFIED)) {
      const chart = verifyChart(scale, local, match, null)
      if (chart === null) continue
      const map = movedHomography(chart.map, left, top)
      charts.push({ ...chart, map, corners: frameCorners(map) })
    }
  }
  return distinctCharts([...charts])
}

/** Whether the middle of a sight lies on a chart. */
function liesOn({ region }: ChartSight, chart: FoundChart): boolean {
  const x = region.left + region.width / 2
  const y = region.top + region.height / 2
  const xs = chart.corners.map((corner) => corner[0])
  const ys = chart.corners.map((corner) => corner[1])
  return x > Math.min(...xs) && x < Math.max(...xs) && y > Math.min(...ys) && y < Math.max(...ys)
}
