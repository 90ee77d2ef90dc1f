import type { Problem } from '../../../measure/stillMeasurement.js'
import type { Quad } from '../../../math/point.js'
import { entryVersion } from '../../../files/changeFile.js'
import { figuresFor } from '../../../units/figures.js'
import { resolveReference } from '../../../walk/stills/resolveReference.js'
import type { StillPick } from '../../../walk/read/readPicks.js'
import type { StillTaskResult } from '../../../walk/stills/stillTask.js'
import { toldByPath } from '../../../walk/stills/toldByPath.js'
import type { Walk } from '../../../walk/read/walk.js'
import { lineOfSightM } from '../../../walk/read/walkHeights.js'
import type { WrittenStill } from '../../../walk/change/writtenStills.js'
import { plainPath } from '../../../walk/schemas/fieldSchemas.js'
import type { AssignedEntry, MarkView, PickView, StillState, StillView } from '../../api.js'
import type { LiveMeasuring } from './liveMeasuring.js'
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
  // Of several picks the first is shown; saving it keeps the others.
  const pick = reading.picks.get(name)?.[0] ?? null
  const reference = resolveReference(walk, { referenceName: named?.reference ?? null }, pick)
  const resolved = reference.ok ? reference.value.reference.name : null
  const result = here === null ? undefined : measuring.resultOf(file, pick === null ? null : resolved)
  const distanceM = here?.distanceM ?? named?.distanceM ?? toldM
  const isStale = pick !== null && head?.ok === true && head.head.sha256 !== pick.sha256
  const searched = pick === null && result !== undefined
  const state = stateOf({ left, head, pick, isStale, result, searched })
  const shown = state === 'chart' && result?.ok === true ? result.reference.name : resolved
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
    pick: pick === null ? null : pickView(pick, isStale),
    searching: searched && result === null,
    chartCorners: state === 'chart' && result?.ok === true ? chartCorners(result) : null,
    problems: problemsOf({ left, head, here: here?.problems ?? [], result, reference, pick, isStale }),
  }
}

interface Facts {
  readonly left: { readonly code: string; readonly message: string } | null
  readonly head: ReadHead | null
  readonly pick: StillPick | null
  readonly isStale: boolean
  readonly result: StillTaskResult | null | undefined
}

function stateOf({ left, head, pick, isStale, result, searched }: Facts & { searched: boolean }): StillState {
  if (head?.ok === false || (left !== null && FILE_FAULTS.includes(left.code))) return 'failed'
  if (left !== null) return 'unassigned'
  if (searched && result?.ok === true) return 'chart'
  if (pick === null || isStale || (result?.ok === false && result.code === 'pick-stale')) return 'assigned'
  return result?.ok === false ? 'failed' : 'picked'
}

function problemsOf(
  facts: Facts & {
    readonly here: readonly Problem[]
    readonly reference: ReturnType<typeof resolveReference>
  },
): Problem[] {
  const { left, head, here, result, reference, isStale } = facts
  const problems: Problem[] = [...here]
  if (left !== null) problems.push({ code: left.code, message: left.message })
  if (head?.ok === false) return [...problems, { code: head.code, message: head.message }]
  if (head?.ok === true) problems.push(...head.remarks)
  if (isStale && result?.ok !== false) problems.push(problem(pageSays['pick-stale']()))
  if (result?.ok === false) problems.push({ code: result.code, message: result.message })
  if (reference.ok) problems.push(...reference.value.problems)
  else if (result === undefined && left === null)
    problems.push({ code: reference.code, message: reference.message })
  return problems.map(({ code, message }) => ({ code, message }))
}

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

function chartCorners(result: Extract<StillTaskResult, { ok: true }>): Quad | null {
  return result.pick.kind === 'corners' ? result.pick.corners : null
}
