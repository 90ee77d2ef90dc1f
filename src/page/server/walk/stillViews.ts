import type { Problem } from '../../../measure/stillMeasurement.js'
import { entryVersion } from '../../../files/changeFile.js'
import { figuresFor } from '../../../units/figures.js'
import { resolveReference } from '../../../walk/stills/resolveReference.js'
import type { StillPick } from '../../../walk/read/readPicks.js'
import type { StillTaskResult } from '../../../walk/stills/stillTask.js'
import { toldByPath } from '../../../walk/stills/toldByPath.js'
import type { NamedStill, Walk } from '../../../walk/read/walk.js'
import { lineOfSightM } from '../../../walk/read/walkHeights.js'
import type { WrittenStill } from '../../../walk/change/writtenStills.js'
import { plainPath } from '../../../walk/schemas/fieldSchemas.js'
import type { AssignedEntry, MarkView, PickView, StillState, StillView } from '../../api.js'
import type { LiveMeasuring, TaskSoFar } from './liveMeasuring.js'
import type { FolderReading } from './readFolder.js'
import type { ReadHead, StillHeads } from '../pictures/stillHeads.js'
import { problem } from '../../../sentences.js'
import { pageSays } from '../../sentences.js'

/** Codes of `findStills` that no assignment mends: the file itself is at fault. */
const FILE_FAULTS = [
  'path-leaves-walk',
  'not-a-file',
  'unreadable',
  'is-video',
  'is-heic',
  'is-raw',
  'no-picture',
]

/** A mark as the page shows it and writes it, as taped; its line of sight to a reference of the walk (the first where it is null). */
export function markView(distanceM: number, walk: Walk, reference: string | null = null): MarkView {
  const sightM = lineOfSightM(walk, reference ?? walk.references[0]!.name, distanceM)
  return {
    distanceM,
    lineOfSightM: sightM,
    text: figuresFor(walk.units).distance(distanceM - walk.distance.beginsM),
  }
}

/** The stills of a walk as the page shows them, in the order of their paths. */
export function stillViews(reading: FolderReading, heads: StillHeads, measuring: LiveMeasuring): StillView[] {
  return [...reading.stamps.keys()]
    .sort((a, b) => Buffer.compare(Buffer.from(a), Buffer.from(b)))
    .flatMap((file) => stillView(file, reading, heads, measuring) ?? [])
}

/** One still as the page shows it; null where the walk has none of that path. */
export function stillView(
  file: string,
  reading: FolderReading,
  heads: StillHeads,
  measuring: LiveMeasuring,
): StillView | null {
  const { walk } = reading
  const stamp = reading.stamps.get(file)
  if (stamp === undefined) return null
  const name = file.normalize('NFC')
  const here = reading.assigned.get(file) ?? null
  const left = reading.unassigned.get(file) ?? null
  const told = toldByPath(file, walk.lights)
  const toldM = told.distanceM === null ? null : walk.distance.beginsM + told.distanceM
  const named = reading.named.get(name) ?? null
  const written = reading.written.get(plainPath(file)) ?? null
  const head = heads.of({ file, stamp })
  const tasks = measuring.tasksOf(file)
  const picks = picksSoFar(reading.picks.get(name) ?? [], { walk, named, head, tasks })
  const untold = resolveReference(walk, { referenceName: named?.reference ?? null }, null)
  const search = tasks.find(({ task }) => task.subject.kind === 'chart')
  const chart = search?.result?.ok === true ? foundChart(search.result) : null
  const state = stateOf({ left, head, picks, chart })
  const [first] = picks
  const reference = first === undefined ? untold : first.reference
  const shown = state === 'chart' ? chart!.reference : reference.ok ? reference.value.reference.name : null
  const distanceM = here?.distanceM ?? named?.distanceM ?? toldM
  return {
    file,
    stamp,
    state,
    mark: distanceM === null ? null : markView(distanceM, walk, shown),
    light: here?.lightId ?? named?.light ?? told.light,
    reference: shown,
    entry: written === null ? null : entryOf(written),
    byName: {
      mark: toldM === null ? null : markView(toldM, walk),
      light: told.light,
    },
    head: head?.ok === true ? head.head : null,
    picks: picks.map(({ one, isStale }) => pickView(one, isStale)),
    searching: picks.length === 0 && search?.result === null,
    chart,
    problems: problemsOf({
      left,
      head,
      here: here?.problems ?? [],
      picks,
      searched: search?.result ?? null,
      untold: picks.length > 0 || search !== undefined || left !== null || untold.ok ? null : untold,
    }),
  }
}

/** A pick, the reference it is of, and what came of measuring it: null where it is not measured yet, or cannot be. */
interface PickSoFar {
  readonly one: StillPick
  readonly reference: ReturnType<typeof resolveReference>
  readonly isStale: boolean
  readonly result: StillTaskResult | null
}

interface PickedOn {
  readonly walk: Walk
  readonly named: NamedStill | null
  readonly head: ReadHead | null
  readonly tasks: readonly TaskSoFar[]
}

function picksSoFar(picks: readonly StillPick[], { walk, named, head, tasks }: PickedOn): PickSoFar[] {
  // As measuring has it: where one of several picks is of what walk.yaml names, nothing disagrees.
  const isOfOne = picks.length > 1 && picks.some(({ reference }) => reference === named?.reference)
  const referenceName = isOfOne ? null : (named?.reference ?? null)
  return picks.map((one) => {
    const reference = resolveReference(walk, { referenceName }, one)
    const ownTask = tasks.find(
      ({ task: { subject } }) =>
        reference.ok &&
        subject.kind === 'picked' &&
        subject.reference.name === reference.value.reference.name,
    )
    const isStale = head?.ok === true && head.head.sha256 !== one.sha256
    return { one, reference, isStale, result: ownTask?.result ?? null }
  })
}

interface Facts {
  readonly left: Problem | null
  readonly head: ReadHead | null
  readonly picks: readonly PickSoFar[]
}

function stateOf({ left, head, picks, chart }: Facts & Pick<StillView, 'chart'>): StillState {
  if (head?.ok === false || (left !== null && FILE_FAULTS.includes(left.code))) return 'failed'
  if (left !== null) return 'unassigned'
  if (picks.length === 0) return chart === null ? 'assigned' : 'chart'
  const held = picks.filter(
    ({ isStale, reference, result }) =>
      !isStale && reference.ok && !(result?.ok === false && result.code === 'pick-stale'),
  )
  if (held.length === 0) return 'assigned'
  return held.every(({ result }) => result?.ok === false) ? 'failed' : 'picked'
}

interface ProblemFacts extends Facts {
  readonly here: readonly Problem[]
  /** What came of looking for a chart. */
  readonly searched: StillTaskResult | null
  /** Told where nothing else is. */
  readonly untold: Problem | null
}

function problemsOf({ left, head, here, picks, searched, untold }: ProblemFacts): Problem[] {
  const problems: Problem[] = [...here]
  if (left !== null) problems.push(left)
  if (head?.ok === false) return [...problems, head].map(bareProblem)
  if (head?.ok === true) problems.push(...head.remarks)
  for (const { reference, isStale, result } of picks) {
    if (isStale && result?.ok !== false) problems.push(problem(pageSays['pick-stale']()))
    if (result?.ok === false) problems.push(result)
    if (reference.ok) problems.push(...reference.value.problems)
    else if (left === null) problems.push(reference)
  }
  if (searched?.ok === false) problems.push(searched)
  if (untold !== null) problems.push(untold)
  const told = new Map(problems.map((one) => [one.message, bareProblem(one)]))
  return [...told.values()]
}

const bareProblem = ({ code, message }: Problem): Problem => ({ code, message })

function entryOf(written: WrittenStill): AssignedEntry {
  const { mark, light, reference } = written
  return { mark, light, reference, version: entryVersion(written) }
}

function pickView(one: StillPick, stale: boolean): PickView {
  const { pick } = one
  return {
    reference: one.reference,
    ...(pick.kind === 'corners' ? { corners: pick.corners } : { ends: pick.ends }),
    method: pick.method === 'snapped' ? 'snapped' : 'hand',
    sigma: pick.sigmaPx,
    ...(pick.covariancePx2 === undefined ? {} : { covariance: pick.covariancePx2 }),
    ...(pick.doubts === undefined ? {} : { doubts: pick.doubts }),
    version: entryVersion(one),
    stale,
  }
}

function foundChart({ pick, reference }: Extract<StillTaskResult, { ok: true }>): StillView['chart'] {
  return pick.kind === 'corners' ? { reference: reference.name, corners: pick.corners } : null
}
