import type { FailedStill, ChartSearch, StillTask, UnpickedStill } from './stillTask.js'
import { DEFAULT_FULL_DETAIL_AT, type Grading, elementM } from '../../grade/gradings/grading.js'
import type { ToneElement, Problem } from '../../measure/stillMeasurement.js'
import { isChart } from '../../measure/reference/reference.js'
import type { AssignedStill, FoundStills } from './findStills.js'
import type { Picks } from '../read/readPicks.js'
import { resolveReference } from './resolveReference.js'
import type { Walk } from '../read/walk.js'
import { lineOfSightM } from '../read/walkHeights.js'

/** A still that can be measured: its task (the path is the walk's to add) and its place in the walk. */
interface PlannedStill {
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

/** What to measure of a walk's stills (where nobody picked, its chart is looked for), which have no corners yet, and which cannot be measured: no reference told, no corners, a pick for a still that is not there. */
export function planStills(walk: Walk, found: FoundStills, picks: Picks): StillPlan {
  const needs = gradingNeeds(walk.grading)
  const planned: PlannedStill[] = []
  const unpicked: UnpickedStill[] = []
  const failed: FailedStill[] = []
  const picked = new Map([...picks.byFile].map(([file, pick]) => [file.normalize('NFC'), pick]))
  for (const still of found.assigned) {
    const pick = picked.get(still.file.normalize('NFC')) ?? null
    const place = { light: still.lightId, distanceM: still.distanceM }
    const common = {
      file: still.file,
      lens: null,
      promisedSize: walk.camera.image,
      ...needs,
    }
    const search = pick === null ? chartSearch(walk, still) : null
    if (search !== null) {
      // Which of several charts it is shows later; they are carried alike enough for what the distance is used for, the lens's bend.
      const sightM = lineOfSightM(walk, search.charts[0]!.name, still.distanceM)
      const task = { ...common, distanceM: sightM, subject: search }
      planned.push({ task, ...place, problems: still.problems })
      continue
    }
    const resolved = resolveReference(walk, still, pick)
    if (!resolved.ok) {
      const { code, message } = resolved
      failed.push({ file: still.file, code, message, sha256: null, ...place, reference: null })
      continue
    }
    if (pick === null) {
      unpicked.push({ file: still.file, ...place, reference: resolved.value.reference.reference })
      continue
    }
    planned.push({
      task: {
        ...common,
        distanceM: lineOfSightM(walk, resolved.value.reference.name, still.distanceM),
        subject: {
          kind: 'picked',
          reference: resolved.value.reference.reference,
          pick: pick.pick,
          pickedSha256: pick.sha256,
        },
      },
      ...place,
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
      sha256: null,
      light: null,
      distanceM: null,
      reference: null,
    })
  }
  return { planned, unpicked, failed }
}

/**
 * The charts to look for in a still without a pick: the one walk.yaml names for it, else all of the walk's. Null where there is none, or where
 * walk.yaml names another reference.
 */
function chartSearch(walk: Walk, still: AssignedStill): ChartSearch | null {
  const named = still.referenceName
  const all = walk.references.map(({ reference }) => reference).filter(isChart)
  const charts = named === null ? all : all.filter(({ name }) => name === named)
  if (charts.length === 0) return null
  const other = walk.references.length > charts.length && named === null
  const what = other ? 'of what it shows' : "of the frame's outside"
  return { kind: 'chart', charts, elseMend: `give the corners ${what} in picks.json` }
}

/** What a still must be measured for, so that it can be graded by a grading: its elements and the detail that counts as full. */
export function gradingNeeds(grading: Grading): {
  readonly elements: readonly ToneElement[]
  readonly fullDetailAt: number
} {
  return {
    elements: grading.grades.map((grade) => ({ gradeId: grade.id, elementM: elementM(grade) })),
    fullDetailAt: grading.fullDetailAt ?? DEFAULT_FULL_DETAIL_AT,
  }
}
