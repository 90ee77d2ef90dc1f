import { moduleM } from '../../src/chart/printed/chartGeometry.js'
import type { ChartPaper } from '../../src/chart/printed/chartPapers.js'
import { STRIP_COVERAGE, stripBars, type StripTone } from '../../src/chart/printed/stripSheet.js'
import {
  greySurface,
  type PlanarTarget,
  shareWithin,
  type Surface,
} from '../../src/simulate/camera/planarTarget.js'
import { along } from '../../src/simulate/camera/worldVector.js'

const TONES: readonly StripTone[] = ['faint', 'black']

/**
 * The sheet of two strips as a surface, metres from the sheet's middle: exact means, the faint strip's lines as their coverage. `paperLight` and
 * `inkLight` are shares of the light thrown back.
 */
export function stripSurface(
  paper: ChartPaper,
  paperLight = 0.75,
  inkLight = 0.045,
  coverage: Readonly<Record<StripTone, number>> = STRIP_COVERAGE,
): Surface {
  const module = moduleM(paper)
  const bars = TONES.flatMap((tone) =>
    stripBars(paper, tone).map(({ left, right, top, bottom }) => ({
      left: (left - 7) * module,
      right: (right - 7) * module,
      top: (top - 5) * module,
      bottom: (bottom - 5) * module,
      ink: coverage[tone],
    })),
  )
  return greySurface(paper.widthM / 2, paper.heightM / 2, (u, v, boxU, boxV) => {
    let ink = 0
    for (const bar of bars)
      if (bar.left < u + boxU && bar.right > u - boxU)
        ink += bar.ink * shareWithin(u, boxU, bar.left, bar.right) * shareWithin(v, boxV, bar.top, bar.bottom)
    return paperLight + (inkLight - paperLight) * ink
  })
}

/** The sheet, its middle `downM` under that of what it is fixed to and 6 mm aside. */
export function sheetOfStrips(paper: ChartPaper, downM: number) {
  return (pose: Pick<PlanarTarget, 'centre' | 'right' | 'down'>): PlanarTarget[] => [
    {
      ...pose,
      centre: along(along(pose.centre, pose.right, 0.006), pose.down, downM),
      halfWidthM: paper.widthM / 2,
      halfHeightM: paper.heightM / 2,
      surface: stripSurface(paper),
    },
  ]
}
