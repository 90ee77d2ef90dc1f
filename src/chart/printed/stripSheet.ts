import { seededRandom } from '../../math/random.js'
import { FIELD, FRAME, moduleM, type ModuleBox } from './chartGeometry.js'
import type { ChartPaper } from './chartPapers.js'
import { LINE_PERIODS_M } from './fineLines.js'
import { power } from '../../math/power.js'

// The second sheet, of the chart's own paper, fixed under the chart with the edges flush: two strips of bars of random width, as wide as the
// chart's frame, one faint and one black. Its truth in modules, the origin the top left of the 14 x 10 field in the sheet's middle, as the chart's.
// The idea (texture of known pattern): ISO/TS 19567-2. Sizes are this project's convention, from trials on simulated stills.

export type StripTone = 'faint' | 'black'

/** Both strips, the bars' ends included. */
export const STRIP_BOXES: Readonly<Record<StripTone, ModuleBox>> = {
  faint: { left: FRAME.left, right: FRAME.right, top: 1.2, bottom: 4.6 },
  black: { left: FRAME.left, right: FRAME.right, top: 5.4, bottom: 8.8 },
}

/** Level lines of this period, metres, make the faint strip's grey: 48 dots of a 600 dpi printer, 20 of them inked. */
export const FAINT_PERIOD_M = LINE_PERIODS_M[1]
/** Shares of a bar that is inked: 24 % Michelson contrast with ink that throws back 6 % of what paper does, and black. */
export const STRIP_COVERAGE: Readonly<Record<StripTone, number>> = { faint: 20 / 48, black: 1 }

const LEAST_BAR_M = 0.0025
const MOST_BAR_M = 0.03
/** The best known of 400 at 90 to 250 px/m on A4 to A2. Never changed: printed sheets carry it. */
const SEED = 51

/** Where paper and bar take turns along a strip, modules of the sheet, first to last: widths are log-uniform, 2.5 to 30 mm, paper first. */
export function barEdges(paper: ChartPaper): number[] {
  const random = seededRandom(SEED)
  const module = moduleM(paper)
  const edges: number[] = []
  for (let at = FRAME.left; ;) {
    at += (LEAST_BAR_M * power(MOST_BAR_M / LEAST_BAR_M, random.uniform())) / module
    if (at >= FRAME.right) break
    edges.push(at)
  }
  return edges.length % 2 === 0 ? edges : [...edges, FRAME.right]
}

/** The bars of a strip, modules of the sheet. */
export function stripBars(paper: ChartPaper, tone: StripTone): ModuleBox[] {
  const edges = barEdges(paper)
  return edges.flatMap((left, index) =>
    index % 2 === 0 ? [{ ...STRIP_BOXES[tone], left, right: edges[index + 1]! }] : [],
  )
}

/** How far the sheet's origin lies under the chart's where the sheets are flush, modules. */
export function stripSheetBelow(paper: ChartPaper): number {
  return Math.max(FIELD.height, paper.heightM / moduleM(paper))
}
