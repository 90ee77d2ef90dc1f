import type { Verdict } from '../judgement.js'
import type { Grade, Grading } from '../gradings/grading.js'
import { chooseAxis } from '../marks/chooseAxis.js'
import { type MarkMeasurement, markReachM } from '../marks/markMeasurement.js'
import { markStandsOut } from '../marks/markStands.js'

/** Where a distance lies to the marks that show something: at one or between two, nearer than all, beyond all; or there is none. */
export type Evidence = 'shown' | 'nearer' | 'beyond' | 'none'

/**
 * What the marks (usable, ascending) show of a distance, metres. `toleranceM` is the tape's; `nearerBy` the share of the nearest down to which something
 * is still shown.
 */
export function evidenceAt(
  distanceM: number,
  marks: readonly Pick<MarkMeasurement, 'distanceM'>[],
  toleranceM: number,
  nearerBy: number,
): Evidence {
  const [nearest, farthest] = [marks[0], marks.at(-1)]
  if (nearest === undefined || farthest === undefined) return 'none'
  if (distanceM > farthest.distanceM + markReachM(farthest.distanceM, toleranceM)) return 'beyond'
  const nearestM = nearest.distanceM - markReachM(nearest.distanceM, toleranceM)
  return distanceM < Math.min(nearerBy * nearest.distanceM, nearestM) ? 'nearer' : 'shown'
}

/** The marks (ascending) that stand around a distance: the nearest on either side. */
export function marksAround(
  distanceM: number,
  marks: readonly MarkMeasurement[],
): readonly MarkMeasurement[] {
  const beyond = marks.findIndex((mark) => mark.distanceM > distanceM)
  return beyond === -1 ? marks.slice(-1) : marks.slice(Math.max(0, beyond - 1), beyond + 1)
}

/** Whether a grade's element stands out at the marks at or around a distance: as at the worst of them; `not met` only where all that can tell are shown to fail. */
export function standsAround(
  marks: readonly MarkMeasurement[],
  grade: Grade,
  grading: Grading,
): { readonly verdict: Verdict; readonly unclear: MarkMeasurement | null } {
  const told = marks.map((mark) => ({ mark, stands: markStandsOut(mark, grade, grading) ?? 'met' }))
  const unclear = told.find(({ stands }) => stands !== 'met')?.mark ?? null
  if (unclear === null) return { verdict: 'met', unclear }
  return { verdict: told.every(({ stands }) => stands === 'not met') ? 'not met' : 'not shown', unclear }
}

/**
 * Whether how the reference was held at these marks is what keeps a density (px/m) from the limit: the poses are known, and square to the ray even the low end would
 * reach it. Density and `facing` are of one still, so its tape cancels.
 */
export function turnExplains(
  density: { readonly low: number },
  marks: readonly MarkMeasurement[],
  limit: number,
): boolean {
  return (
    marks.length > 0 &&
    marks.every(
      (mark) =>
        mark.turnDeg !== null && mark.facing !== null && (density.low * mark.facing) / fitted(mark) >= limit,
    )
  )
}

/** Whether at all these marks the reference as held stays under a limit (px/m) because its other axis is plainly shortened, beyond what is open in it. */
export function failsAsHeld(
  density: { readonly value: number },
  marks: readonly MarkMeasurement[],
  limit: number,
): boolean {
  return (
    marks.length > 0 &&
    marks.every((mark) => {
      const share = mark.onTarget.high / fitted(mark)
      return share < 1 && density.value * share < limit
    })
  )
}

/** px/m along the axis a mark was fitted with. */
function fitted(mark: MarkMeasurement): number {
  return mark.axes[chooseAxis(mark)]!.densityPxPerM
}
