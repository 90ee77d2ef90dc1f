import { promisedName } from '../../grade/gradings/grading.js'
import { asSentence } from '../../sentences.js'
import type { Figures } from '../../units/figures.js'
import type { WalkPlan } from '../../walk/plan/planWalk.js'
import { planSays } from '../../walk/plan/sentences.js'
import { type PlannedStill, stillOf } from '../../walk/plan/stillsToTake.js'
import type { Walk } from '../../walk/read/walk.js'
import type { Pen } from '../document/pen.js'
import { drawParagraph, drawSubhead } from '../document/prose.js'
import { SMALL_STRONG } from '../document/typography.js'
import { drawTable } from '../tables/dataTable.js'
import { OUTSIDE_NOTE } from './planHead.js'

/** Which still shows each promise, what it must show there, and what the data sheet lets one expect. */
export function drawPlanPromises(
  pen: Pen,
  walk: Walk,
  plan: WalkPlan,
  stills: readonly PlannedStill[],
  figures: Figures,
): void {
  if (plan.promises.length === 0) return
  const isForetold = plan.promises.some(({ neededPxPerM }) => neededPxPerM !== null)
  drawSubhead(pen, 'The still that shows each promise', 60)
  drawTable(
    pen,
    [
      { head: 'Still', share: 24, align: 'right', style: SMALL_STRONG },
      { head: 'Promised', share: 150 },
      { head: 'At', share: 52, align: 'right' },
      { head: 'Light', share: 60 },
      { head: 'Hold', share: 70 },
      { head: 'Limit', share: 104, align: 'right' },
      ...(isForetold
        ? ([
            { head: `Needs, ${figures.densityUnit}`, share: 50, align: 'right' },
            { head: 'Expected', share: 76, align: 'right' },
          ] as const)
        : []),
    ],
    plan.promises.map((planned) => {
      const { promise, grade, densityPxPerM: value, boundsPxPerM, neededPxPerM } = planned
      const asked = promise.task ?? promise.what
      const name = promisedName(promise, walk.grading)
      return {
        cells: [
          String(stillOf(planned, stills) ?? '–'),
          asked === undefined ? name : `${name}: ${asked}`,
          figures.distance(promise.distanceM),
          promise.light,
          promise.reference ?? 'all',
          grade === null ? '–' : figures.limit(grade.limit),
          ...(isForetold
            ? [
                neededPxPerM === null ? '–' : figures.needed(neededPxPerM, promise.kind === 'most'),
                value === null ? '–' : figures.interval({ value, ...boundsPxPerM! }),
              ]
            : []),
        ],
      }
    }),
  )
  if (isForetold)
    drawParagraph(pen, asSentence(planSays.needs(walk.judge === 'detail').message), OUTSIDE_NOTE)
}
