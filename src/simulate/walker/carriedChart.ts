import {
  chartAreas,
  chartFace,
  evenInk,
  FIELD,
  FRAME_HEIGHT_MODULES,
  FRAME_WIDTH_MODULES,
  inkAt,
  moduleM,
} from '../../chart/printed/chartGeometry.js'
import type { ChartPaper } from '../../chart/printed/chartPapers.js'
import type { CarriedReference } from './demoReferences.js'
import { greySurface } from '../camera/planarTarget.js'

/** Shares of light thrown back by matt paper and by carbon toner. */
const PAPER = 0.75
const TONER = 0.045
/** Fine samples a box is drawn with, per side. */
const SAMPLES = 2

/**
 * The printed chart of a paper, its whole sheet, printed at `scale` (1: true). The fine lines are drawn as their coverage, as a camera that
 * cannot see them has them; words and scale bar are left out.
 */
export function carriedChart(paper: ChartPaper, scale = 1): CarriedReference {
  const areas = chartAreas(chartFace(paper.face))
  const even = evenInk(areas)
  const module = moduleM(paper) * scale
  const halfWidthM = (paper.widthM / 2) * scale
  const halfHeightM = (paper.heightM / 2) * scale
  const [middleX, middleY] = [FIELD.width / 2, FIELD.height / 2]
  return {
    widthM: FRAME_WIDTH_MODULES * module,
    heightM: FRAME_HEIGHT_MODULES * module,
    halfWidthM,
    halfHeightM,
    surface: greySurface(halfWidthM, halfHeightM, (u, v, boxU, boxV) => {
      const around = even(middleX + u / module, middleY + v / module, (boxU + boxV) / 2 / module)
      if (!Number.isNaN(around)) return PAPER + (TONER - PAPER) * around
      let ink = 0
      for (let j = 0; j < SAMPLES; j += 1) {
        for (let i = 0; i < SAMPLES; i += 1) {
          const x = u + ((i + 0.5) / SAMPLES - 0.5) * boxU
          const y = v + ((j + 0.5) / SAMPLES - 0.5) * boxV
          ink += inkAt(areas, middleX + x / module, middleY + y / module)
        }
      }
      return PAPER + ((TONER - PAPER) * ink) / SAMPLES ** 2
    }),
  }
}
