import type { FailedStill, ChartSearch, StillTask, UnpickedStill } from './stillTask.js'
import { DEFAULT_FULL_DETAIL_AT, type Grading, elementM } from '../../grade/gradings/grading.js'
import type { ToneElement, Problem } from '../../measure/stillMeasurement.js'
import { groupBy } from '../../math/groupBy.js'
import { isChart } from '../../measure/reference/reference.js'
import type { AssignedStill, FoundStills } from './findStills.js'
import type { Picks, StillPick } from '../read/readPicks.js'
import { problem } from '../../sentences.js'
import { resolveReference } from './resolveReference.js'
import { CORNERS_INSTEAD, stillsSays } from './sentences.js'
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

/** What to measure of a walk's stills, one task a pick (its chart is looked for where nobody picked one), which have no corners yet, and which cannot be measured: no reference told, no corners, a pick for a still that is not there. */
export function planStills(walk: Walk, found: FoundStills, picks: Picks): StillPlan {
  const needs = gradingNeeds(walk.grading)
  const planned: PlannedStill[] = []
  const unpicked: UnpickedStill[] = []
  const failed: FailedStill[] = []
  const picked = new Map([...picks.byFile].map(([file, one]) => [file.normalize('NFC'), one]))
  // Where a light has stills of the chart alone, it was carried by itself there: looking for it in every other still would cost several decodes each. At a mark
  // with one still alone, both may be in it.
  const chartLights = new Set(
    found.assigned
      .filter((still) => !picked.has(still.file.normalize('NFC')) && chartSearch(walk, still) !== null)
      .map(({ lightId }) => lightId),
  )
  const placeOf = ({ lightId, distanceM }: AssignedStill): string => `${lightId} ${distanceM}`
  const places = groupBy(found.assigned, placeOf)
  const isOneOfSeveral = (still: AssignedStill): boolean => places.get(placeOf(still))!.length > 1
  for (const still of found.assigned) {
    const picksHere = picked.get(still.file.normalize('NFC')) ?? []
    const { file, problems } = still
    const place = { light: still.lightId, distanceM: still.distanceM }
    const taskOn = (subject: StillTask['subject'], reference: string): PlannedStill['task'] => {
      const distanceM = lineOfSightM(walk, reference, still.distanceM)
      return { file, subject, distanceM, lens: null, promisedSize: walk.camera.image, ...needs }
    }
    const isAlone = chartLights.has(still.lightId) && isOneOfSeveral(still)
    const beside = isAlone ? null : besideSearch(walk, picksHere)
    const search = picksHere.length === 0 ? chartSearch(walk, still) : beside
    // Which of several charts it is shows later; they are carried alike enough for what the distance is used for, the lens's bend.
    const sought =
      search === null ? [] : [{ task: taskOn(search, search.charts[0]!.name), ...place, problems }]
    if (search !== null && search.beside !== true) {
      planned.push(...sought)
      continue
    }
    // walk.yaml names one reference of a still: where one of several picks is of it, nothing disagrees.
    const isPicked = picksHere.length > 1 && picksHere.some((one) => one.reference === still.referenceName)
    const named = isPicked ? { referenceName: null } : still
    for (const pick of picksHere.length === 0 ? [null] : picksHere) {
      const resolved = resolveReference(walk, named, pick)
      if (!resolved.ok) {
        const { code, message } = resolved
        failed.push({ file, code, message, sha256: null, ...place, reference: null })
        continue
      }
      const { reference } = resolved.value.reference
      if (pick === null) {
        unpicked.push({ file, ...place, reference })
        continue
      }
      const subject = { kind: 'picked', reference, pick: pick.pick, pickedSha256: pick.sha256 } as const
      planned.push({
        task: taskOn(subject, reference.name),
        ...place,
        problems: [...problems, ...resolved.value.problems],
      })
    }
    planned.push(...sought)
  }
  const known = new Set([...found.assigned, ...found.unassigned].map(({ file }) => file.normalize('NFC')))
  for (const file of picks.byFile.keys()) {
    if (known.has(file.normalize('NFC'))) continue
    failed.push({
      file,
      ...problem(stillsSays[PICK_WITHOUT_STILL]()),
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
  return { kind: 'chart', charts, elseMend: CORNERS_INSTEAD[other ? 'other' : 'frame'] }
}

/** The walk's charts, to be looked for in a still picked for something else; null where it has none, or one was picked. */
function besideSearch(walk: Walk, picksHere: readonly StillPick[]): ChartSearch | null {
  const charts = walk.references.map(({ reference }) => reference).filter(isChart)
  const isPicked = picksHere.some(
    ({ reference }) => reference === null || charts.some(({ name }) => name === reference),
  )
  return charts.length === 0 || isPicked ? null : { kind: 'chart', charts, elseMend: null, beside: true }
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
