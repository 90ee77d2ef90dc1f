import { join } from 'node:path'
import { gradeStill } from '../../grade/gradings/gradeStill.js'
import { judgeWalk } from '../../grade/judgeWalk.js'
import type { JudgedStill, WalkJudgement } from '../../grade/judgement.js'
import { measuredLenses } from '../../grade/lensResult.js'
import type { MeasuredSeries } from '../../grade/range/seriesInOrder.js'
import type { CameraLens } from '../../lens/cameraLens.js'
import { METHOD_VERSION, type Problem, type StillMeasurement } from '../../measure/stillMeasurement.js'
import type { Pick } from '../../measure/reference/pick.js'
import type { Reference } from '../../measure/reference/reference.js'
import { exportFindings } from './exportFindings.js'
import { lensEvidence } from '../lens/lensEvidence.js'
import { type LensOfStills, lensOfStills } from '../lens/lensOfStills.js'
import { chartFindings } from './chartFindings.js'
import { type FoundStills, type UnassignedFile, findStills } from '../stills/findStills.js'
import type { FolderFile } from '../stills/listStillFiles.js'
import { measuredWalk } from './measuredWalk.js'
import { type StillPlan, planStills } from '../stills/planStills.js'
import type { FailedStill, StillTask, StillTaskResult } from '../stills/stillTask.js'
import { type Picks, readPicks } from '../read/readPicks.js'
import type { ProjectionResult, WalkResults } from '../schemas/resultsSchema.js'
import { roundNumbers } from '../../units/roundNumbers.js'
import { sheetReading } from '../lens/sheetReading.js'
import { stillEntry } from './stillEntry.js'
import { unpickedStill } from '../stills/unpickedStill.js'
import { runStillTasks, workerCount } from './stillPool.js'
import type { Walk } from '../read/walk.js'
import { lineOfSightM } from '../read/walkHeights.js'
import { lensOfWalk, posedThroughLens, readThroughLens } from '../lens/walkLens.js'

/** How a walk is measured. */
export interface MeasureWalkOptions {
  /** Threads to measure on; one a core where null or not given. */
  readonly workers?: number | null
  /** Called after every still. */
  readonly onProgress?: (done: number, all: number) => void
}

/** A measured still of the walk with what `results.json` says of it beside the measurement. */
interface MeasuredStill extends JudgedStill {
  readonly measuredOn: { readonly reference: Reference; readonly pick: Pick }
  readonly sha256: string
  /** Told before it was opened; and all that is told of it. */
  readonly planProblems: readonly Problem[]
  readonly problems: readonly Problem[]
  /** Whether its points went through the walk's known lens. */
  readonly throughLens?: boolean
}

/**
 * Measures and judges a walk: finds its stills, measures each where it has corners, fits the walk's own lens, and judges marks, ranges and
 * promises. Files that are not measured are listed with their reason. The same walk gives the same results on any number of threads.
 * Throws `ProofwalkErrors` where picks.json is at fault.
 */
export async function measureWalk(walk: Walk, options: MeasureWalkOptions = {}): Promise<WalkResults> {
  const planned = await planMeasuring(walk)
  const { tasks } = planned
  const done = await runStillTasks(tasks, workerCount(options.workers ?? null, tasks.length), (count) =>
    options.onProgress?.(count, tasks.length),
  )
  return judgeMeasured(walk, planned, done)
}

/** What there is to measure of a walk: its files as they were read, what becomes of each still, and a task for each that can be measured. */
export interface MeasuringPlan {
  readonly picks: Picks
  readonly found: FoundStills
  readonly plan: StillPlan
  /** In the order of `plan.planned`. */
  readonly tasks: readonly StillTask[]
}

/** Finds the stills of a walk (among the files `listed`, where those are known) and plans their measuring; nothing is opened. Throws `ProofwalkErrors` where picks.json is at fault. */
export async function planMeasuring(walk: Walk, listed?: readonly FolderFile[]): Promise<MeasuringPlan> {
  const picks = await readPicks(walk.dir)
  const found = await findStills(walk, listed)
  const plan = planStills(walk, found, picks)
  const tasks = plan.planned.map(({ task }) => ({ ...task, path: join(walk.dir, task.file) }))
  return { picks, found, plan, tasks }
}

/**
 * Judges a walk by what came of its tasks, in their order; null where a still is not measured yet, which is then as if it were not there (the page
 * judges while it measures).
 */
export async function judgeMeasured(
  walk: Walk,
  { picks, found, plan }: MeasuringPlan,
  done: readonly (StillTaskResult | null)[],
): Promise<WalkResults> {
  const measured: MeasuredStill[] = []
  const failed: FailedStill[] = [...plan.failed]
  for (const still of plan.unpicked) failed.push(await unpickedStill(walk.dir, still))
  for (const [index, result] of done.entries()) {
    if (result === null) continue
    const { task, light, distanceM, problems } = plan.planned[index]!
    if (!result.ok) {
      const { code, message, sha256 } = result
      const reference = soughtReference(task.subject)
      failed.push({ file: task.file, code, message, sha256, light, distanceM, reference })
      continue
    }
    const { measurement, sha256, reference, pick } = result
    measured.push({
      measuredOn: { reference, pick },
      file: task.file,
      sha256,
      light,
      reference: reference.name,
      distanceM,
      lineOfSightM: lineOfSightM(walk, reference.name, distanceM),
      ...gradedStill(walk, measurement, problems),
      planProblems: problems,
    })
  }
  const reading = sheetReading(walk)
  const evidence = lensEvidence(walk, measured, reading)
  const { lens, findings } = evidence === null ? { lens: null, findings: [] } : lensOfStills(evidence)
  const pose = lensOfWalk(measuredLenses(seriesOf(walk, measured, false)), reading, measured)
  const seen = measured.map((still) => throughWalkLens(walk, still, lens, pose))
  const allThrough = lens !== null && seen.every(({ throughLens }) => throughLens)
  const judgement = judge(walk, seen, reading, allThrough)
  return resultsOf(walk, picks, seen, judgement, {
    projection: lens?.projection ?? null,
    contradictions: [
      ...(reading?.contradictions ?? []),
      ...findings,
      ...exportFindings(measured),
      ...chartFindings(walk, measured),
    ],
    unassigned: found.unassigned,
    failed: failed.sort((a, b) => (a.file < b.file ? -1 : 1)),
  })
}

/** What a still was to show: the reference of its pick, or the only chart that was looked for. */
function soughtReference(subject: StillTask['subject']): string | null {
  if (subject.kind === 'picked') return subject.reference.name
  return subject.charts.length === 1 ? (subject.charts[0]?.name ?? null) : null
}

function judge(
  walk: Walk,
  stills: readonly JudgedStill[],
  reading: ReturnType<typeof sheetReading>,
  lensKnown: boolean,
): WalkJudgement {
  return judgeWalk({
    ...seriesOf(walk, stills, lensKnown),
    grading: walk.grading,
    judge: walk.judge,
    promises: walk.promises,
    observations: walk.observations,
    promisedLens:
      reading === null
        ? null
        : {
            rectilinear: reading.rectilinearPixelsPerRadian,
            asRead: reading.lens?.pixelsPerRadian ?? null,
          },
    units: walk.units,
  })
}

function seriesOf(walk: Walk, stills: readonly JudgedStill[], lensKnown: boolean): MeasuredSeries {
  return {
    stills,
    lights: walk.lights,
    references: walk.references.map(({ name }) => name),
    distanceToleranceM: walk.distance.toleranceM,
    lensKnown,
  }
}

/** A measurement with its grades, and all that is told of the still. */
function gradedStill(walk: Walk, measurement: StillMeasurement, planProblems: readonly Problem[]) {
  const graded = gradeStill(measurement, walk.grading, walk.judge)
  return { measurement, ...graded, problems: [...planProblems, ...graded.problems] }
}

/**
 * The still with its points read through the walk's lens where that is known, else with pose and facing density by the lens there is: both are known
 * only once all stills are measured, and need no pixels.
 */
function throughWalkLens(
  walk: Walk,
  still: MeasuredStill,
  known: LensOfStills | null,
  pose: CameraLens | null,
): MeasuredStill {
  const { measurement, measuredOn, lineOfSightM, light } = still
  const { reference, pick } = measuredOn
  const fits = known !== null && measurement.width === known.width && measurement.height === known.height
  const lens = fits ? (known.byLight.get(light) ?? [...known.byLight.values()][0]) : undefined
  const read = lens === undefined ? null : readThroughLens(measurement, reference, pick, lineOfSightM, lens)
  if (read !== null) return { ...still, ...gradedStill(walk, read, still.planProblems), throughLens: true }
  if (pose === null) return still
  return { ...still, measurement: posedThroughLens(measurement, reference, pick, lineOfSightM, pose) }
}

function resultsOf(
  walk: Walk,
  picks: Picks,
  stills: readonly MeasuredStill[],
  judgement: WalkJudgement,
  told: {
    readonly projection: ProjectionResult | null
    readonly contradictions: readonly Problem[]
    readonly unassigned: readonly UnassignedFile[]
    readonly failed: readonly FailedStill[]
  },
): WalkResults {
  const { leastRoseK, fullDetailAt, ...grading } = walk.grading
  const findings = [...told.contradictions, ...judgement.findings]
  return roundNumbers({
    format: 'proofwalk-results/1',
    method: METHOD_VERSION,
    inputs: { walk: walk.walkSha256, picks: picks.sha256, grading: walk.gradingSha256 },
    walk: measuredWalk(walk),
    grading: {
      ...grading,
      grades: grading.grades.map((grade) => ({ ...grade })),
      ...(leastRoseK === undefined ? {} : { leastRoseK }),
      ...(fullDetailAt === undefined ? {} : { fullDetailAt }),
    },
    stills: stills.map((still) =>
      stillEntry(
        {
          file: still.file,
          sha256: still.sha256,
          light: still.light,
          distanceM: still.distanceM,
          reference: still.reference,
        },
        still.measurement,
        still,
        still.problems,
      ),
    ),
    marks: judgement.marks.map((mark) => ({ ...mark })),
    ranges: judgement.ranges.map((range) => ({ ...range })),
    triggers: judgement.triggers.map((trigger) => ({ ...trigger })),
    lens: judgement.lens.map((lens) => ({ ...lens })),
    projection: told.projection,
    promises: judgement.promises.map((promise) => ({ ...promise })),
    findings: findings.map(({ code, message }) => ({ code, message })),
    unassigned: told.unassigned.map(({ file, message }) => ({ file, message })),
    failed: told.failed.map(({ distanceM, ...one }) => ({ ...one, distance: distanceM })),
  })
}
