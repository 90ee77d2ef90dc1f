import type { Problem } from '../measure/stillMeasurement.js'
import type { FoundStills } from './findStills.js'
import { gradingNeeds } from './gradingNeeds.js'
import type { Picks } from './readPicks.js'
import { resolveReference } from './resolveReference.js'
import type { StillTask } from './stillTask.js'
import type { UnpickedStill } from './unpickedStill.js'
import type { Walk } from './walk.js'

/** A file that could not be measured, and why. */
export interface FailedStill {
  readonly file: string
  readonly code: string
  readonly message: string
}

/** A still that can be measured: its task (the path is the walk's to add) and its place in the walk. */
export interface PlannedStill {
  readonly task: Omit<StillTask, 'path'>
  readonly light: string
  readonly distanceM: number
  readonly problems: readonly Problem[]
}

/** The code of a pick whose still is not there. */
export const PICK_WITHOUT_STILL = 'pick-without-still'

/** What becomes of a walk's stills. */
export interface StillPlan {
  readonly planned: readonly PlannedStill[]
  readonly unpicked: readonly UnpickedStill[]
  readonly failed: readonly FailedStill[]
}

/** What to measure of a walk's stills, which have no corners yet, and which cannot be measured: no reference told, no corners, a pick for a still that is not there. */
export function planStills(walk: Walk, found: FoundStills, picks: Picks): StillPlan {
  const needs = gradingNeeds(walk.grading)
  const planned: PlannedStill[] = []
  const unpicked: UnpickedStill[] = []
  const failed: FailedStill[] = []
  const picked = new Map([...picks.byFile].map(([file, pick]) => [file.normalize('NFC'), pick]))
  for (const still of found.assigned) {
    const pick = picked.get(still.file.normalize('NFC')) ?? null
    const resolved = resolveReference(walk, still, pick)
    if (!resolved.ok) {
      failed.push({ file: still.file, code: resolved.code, message: resolved.message })
      continue
    }
    if (pick === null) {
      unpicked.push({ file: still.file, reference: resolved.value.reference.reference })
      continue
    }
    planned.push({
      task: {
        file: still.file,
        reference: resolved.value.reference.reference,
        pick: pick.pick,
        pickedSha256: pick.sha256,
        distanceM: still.distanceM,
        lens: null,
        promisedSize: walk.camera.image,
        ...needs,
      },
      light: still.lightId,
      distanceM: still.distanceM,
      problems: [...still.problems, ...resolved.value.problems],
    })
  }
  const known = new Set([...found.assigned, ...found.unassigned].map(({ file }) => file.normalize('NFC')))
  for (const file of picks.byFile.keys()) {
    if (known.has(file.normalize('NFC'))) continue
    failed.push({
      file,
      code: PICK_WITHOUT_STILL,
      message: 'picks.json has corners for it, but no such still was found; put it back or delete its entry',
    })
  }
  return { planned, unpicked, failed }
}
