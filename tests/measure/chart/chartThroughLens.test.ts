import { FRAME } from '../../../src/chart/printed/chartGeometry.js'
import { CHART_PAPERS } from '../../../src/chart/printed/chartPapers.js'
import { projectionAngle } from '../../../src/lens/projection.js'
import { boxTo, movedHomography } from '../../../src/math/homography.js'
import type { Quad } from '../../../src/math/point.js'
import { seededRandom } from '../../../src/math/random.js'
import { measureDensity } from '../../../src/measure/density/density.js'
import { chartReference } from '../../../src/measure/reference/chartReference.js'
import { measureFoundChart } from '../../../src/walk/measure/measureFoundChart.js'
import { expectNear } from '../../nearly.js'
import { DAY, exposeChart, renderChart, WIDE_STILL } from '../../support/chartStill.js'
import { describe, expect, it } from 'vitest'

/** Little noise and no JPEG, so that one still shows the bias. */
const CLEAR = { ...DAY, name: 'clear', noiseDn: 0.7, jpegQuality: 101 }
const F = 420
/** The outline to begin with lies so far off, px. */
const OFF_PX = 0.2

/** Errors of both densities, %, read with the lens unknown and known, and what was told. */
async function errorsOf(lensP: number, pixelsPerModule: number, atRim: boolean, seed: number) {
  const random = seededRandom(seed)
  const paper = CHART_PAPERS[seed % CHART_PAPERS.length]!
  const { width, height } = WIDE_STILL
  const rimPx = width / 2 - 8.8 * pixelsPerModule - 8
  const view = {
    paper,
    pixelsPerModule,
    wide: true,
    lensP,
    offAxisRad: atRim ? Math.min(lensP > 0 ? 0.8 : 1.1, projectionAngle(lensP, rimPx / F)!) : 0.02,
    yawDeg: 10,
    pitchDeg: -6,
    rollDeg: 8,
    width: 60 + 20 * pixelsPerModule,
    height: 50 + 16 * pixelsPerModule,
  }
  const rendered = renderChart(view, CLEAR, random)
  const { image, truth, axis } = await exposeChart(rendered, CLEAR, random)
  const [left, top] = [Math.round(width / 2 - axis[0]), height / 2 - axis[1]]
  const start = truth.corners.map(([x, y]) => [x + OFF_PX, y - OFF_PX]) as unknown as Quad
  const found = {
    map: movedHomography(boxTo(FRAME, start), left, top),
    corners: start.map(([x, y]) => [x + left, y + top]) as unknown as Quad,
    pixelsPerModule,
    face: paper.face,
    faceSure: true,
    correlation: 1,
    kept: 1,
    sigmaModules: 0,
    worstWindow: 1,
    contrastDn: 150,
  }
  const chart = measureFoundChart(
    { width, height, lumaRegion: () => ({ left, top, ...image }) },
    found,
    paper,
  )
  if (!chart.ok) throw new Error(chart.message)
  const { station } = rendered
  const lens = { ...station.lens, centreX: axis[0] + left, centreY: axis[1] + top }
  const reference = { ...chartReference('chart', paper, null), widthToleranceM: 0, heightToleranceM: 0 }
  const read = (known: boolean) => {
    const measured = measureDensity(reference, chart.value.pick, {
      stillWidth: width,
      stillHeight: height,
      distanceM: truth.distanceM,
      known: known ? { lens, varianceQ: 0, covariance: 0, varianceLogF: 0 } : null,
    })
    if (!measured.ok) throw new Error(measured.message)
    const { horizontal, vertical } = measured.value.density
    return [100 * (horizontal! / truth.horizontalPxPerM - 1), 100 * (vertical! / truth.verticalPxPerM - 1)]
  }
  return { unknown: read(false), known: read(true), codes: chart.value.problems.map(({ code }) => code) }
}

describe('a chart that a lens bends', () => {
  for (const lensP of [-0.5, 0, 0.5, 1])
    it(`has its density within 0.05 % through a lens of p = ${lensP}, known or not, in the middle and near the rim`, async () => {
      for (const [pixelsPerModule, atRim, seed] of [
        [3, true, 3],
        [5, false, 4],
        [5, true, 5],
        [10, false, 6],
        [10, true, 7],
      ] as const) {
        const { unknown, known, codes } = await errorsOf(lensP, pixelsPerModule, atRim, seed)
        const place = `${pixelsPerModule} px a module ${atRim ? 'near the rim' : 'in the middle'}`
        const said = (errors: number[]) => errors.map((error) => error.toFixed(3)).join(' ')
        console.log(`p ${lensP}, ${place}: ${said(unknown)} %, through the lens ${said(known)} %`)
        for (const error of [...unknown, ...known]) expectNear(error, 0, { abs: 0.05 }, place)
        // It is the lens that bends it: no curl, no shadow.
        expect(
          codes.filter((code) => code.startsWith('chart-')),
          place,
        ).toEqual([])
      }
    })
})
