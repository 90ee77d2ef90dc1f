import { gradeStill } from '../../grade/gradings/gradeStill.js'
import { judgeWalk } from '../../grade/judgeWalk.js'
import type { JudgedStill, WalkFinding, WalkJudgement } from '../../grade/judgement.js'
import { measuredLenses } from '../../grade/lensResult.js'
import { stillsApart, whyApart } from '../../grade/marks/seriesSize.js'
import type { MeasuredSeries } from '../../grade/court/seriesInOrder.js'
import { readingReached } from '../../grade/promises/readingReached.js'
import { sceneApart } from '../../grade/scene/sceneApart.js'
import type { CameraLens } from '../../lens/cameraLens.js'
import type { Pick } from '../../measure/reference/pick.js'
import type { Reference } from '../../measure/reference/reference.js'
import type { Problem, StillMeasurement } from '../../measure/stillMeasurement.js'
import type { Scene } from '../../scene/scene.js'
import { problem } from '../../sentences.js'
import { figuresFor } from '../../units/figures.js'
import type { LensReading } from '../../lens/dataSheet.js'
import { lensEvidence } from '../lens/lensEvidence.js'
import { type LensOfStills, lensOfStills } from '../lens/lensOfStills.js'
import { foretelling, sheetReading } from '../lens/sheetReading.js'
import { lensOfWalk, posedThroughLens, readThroughLens } from '../lens/walkLens.js'
import type { Walk } from '../read/walk.js'
import { lineOfSightM } from '../read/walkHeights.js'
import type { ProjectionResult, ReadingEntry } from '../schemas/resultsSchema.js'
import { chartsBeside } from '../stills/chartsBeside.js'
import type { FailedStill, StillTask, StillTaskResult } from '../stills/stillTask.js'
import type { StillOfScene } from '../scene/sceneOfStills.js'
import type { SceneWitness } from '../scene/sceneWitness.js'
import { type LookAgain, suspectedPairs } from '../stills/lookAgain.js'
import { readingFindings, scoreReadings } from '../trial/scoreReadings.js'
import { unpickedStill } from '../stills/unpickedStill.js'
import { type DateOfWalk, dateOfWalk } from '../stills/walkDate.js'
import { chartFindings } from './chartFindings.js'
import { exportFindings } from './exportFindings.js'
import type { MeasuringPlan } from './planMeasuring.js'
import { measuringSays } from './sentences.js'
import { samePictures, type ShownAgain } from './samePictures.js'

/** A measured still of the walk with what `results.json` says of it beside the measurement. */
interface MeasuredStill extends JudgedStill {
  readonly measuredOn: { readonly reference: Reference; readonly pick: Pick }
  readonly sha256: string
  readonly takenAt: string | null
  /** The still whose picture it shows again: it counts nowhere. */
  readonly sameAs: string | null
  /** The stills that may be its picture too. */
  readonly alike: readonly string[]
  /** Told before it was opened; and all that is told of it. */
  readonly planProblems: readonly Problem[]
  readonly problems: readonly Problem[]
  /** Whether its points went through the walk's known lens. */
  readonly throughLens?: boolean
}

/** A walk judged by what was measured of it. */
export interface JudgedWalk {
  readonly stills: readonly MeasuredStill[]
  /** Sorted by file. */
  readonly failed: readonly FailedStill[]
  readonly judgement: WalkJudgement
  /** The lens its points went through; null where it is not known. */
  readonly projection: ProjectionResult | null
  /** How its stills lie against each other; null where nothing is told. */
  readonly scene: Scene | null
  /** What was read on it. */
  readonly readings: readonly ReadingEntry[]
  /** What was found on the walk as a whole: of lens, export and charts, then of the judging. */
  readonly findings: readonly WalkFinding[]
  /** Its date, and what it was taken from. */
  readonly dated: Omit<DateOfWalk, 'findings'>
}

/**
 * Judges a walk by what came of its tasks, in their order; null where a still is not measured yet, which is then as if it were not there (the page
 * judges while it measures). `look` says which stills that look alike may be one picture, `witness` how they lie against each other. The lens is known only once all stills are measured; points are then read through it, which needs no pixels.
 * @throws `ProofwalkError` `unknown-grade` where a promise names a grade the grading has not
 */
export async function judgeMeasured(
  walk: Walk,
  plan: MeasuringPlan,
  results: readonly (StillTaskResult | null)[],
  look: LookAgain,
  witness: SceneWitness,
): Promise<JudgedWalk> {
  const done = chartsBeside(plan.tasks, results)
  const all = await withAlike(measuredStills(walk, plan, done), look)
  const same = samePictures(walk, all)
  const marked = all.map((still) => shownAgain(still, same.again))
  const apart = stillsApart(marked.filter(isShownOnce), walk.camera.image)
  const ofOneSize = marked.map((still) => withReason(still, apart.get(still.file)))
  const reading = sheetReading(walk)
  const promised = foretelling(reading)
  const first = lensesOf(walk, ofOneSize, reading)
  const scene = await witness(registrable(ofOneSize), (light) => sceneLens(first, promised, light))
  const elsewhere = sceneApart(scene, lightsOf(ofOneSize))
  const measured = ofOneSize.map((still) => withReason(still, elsewhere.get(still.file)))
  const { lens, findings, pose } = elsewhere.size === 0 ? first : lensesOf(walk, measured, reading)
  const stills = measured.map((still) => throughWalkLens(walk, still, lens, pose))
  const counted = stills.filter(isShownOnce)
  const lensKnown = lens !== null && counted.filter(counts).every(({ throughLens }) => throughLens)
  const readings = scoreReadings(walk, plan.readings, counted)
  const judgement = judgeWalk({
    ...seriesOf(walk, counted, lensKnown),
    grading: walk.grading,
    judge: walk.judge,
    promises: walk.promises,
    readings,
    observations: walk.observations,
    promisedLens: promised && {
      rectilinear: promised.rectilinearPixelsPerRadian,
      asRead: promised.lens?.pixelsPerRadian ?? null,
    },
    projection: lens === null ? null : { ...lens.projection, value: lens.projection.p },
    beginsM: walk.distance.beginsM,
    registered: scene,
    units: walk.units,
  })
  const { findings: ofDates, ...dated } = dateOfWalk(walk.date, stills)
  return {
    dated,
    stills,
    readings: readings.map((one) => ({
      ...one,
      reached: readingReached(one, judgement.marks, counted, walk.grading),
    })),
    failed: await failedStills(walk, plan, done),
    judgement,
    projection: lens?.projection ?? null,
    scene,
    findings: [
      ...(reading?.contradictions ?? []),
      ...ofDates,
      ...beginsFindings(walk),
      ...bordersSeen(walk),
      ...findings,
      ...same.findings,
      ...exportFindings(measured, [...apart.keys(), ...elsewhere.keys()].sort()),
      ...chartFindings(walk, measured),
      ...judgement.findings,
      ...readingFindings(readings, walk.units),
    ],
  }
}

/** What is known of the lens by the stills that count: through which points go, what was found on the way, and by which poses are told. */
interface Lenses {
  readonly lens: LensOfStills | null
  readonly findings: readonly WalkFinding[]
  readonly pose: CameraLens | null
}

function lensesOf(walk: Walk, stills: readonly MeasuredStill[], reading: LensReading | null): Lenses {
  const once = stills.filter(counts)
  const evidence = lensEvidence(walk, once, reading)
  const known = evidence === null ? { lens: null, findings: [] } : lensOfStills(evidence)
  const pose = lensOfWalk(measuredLenses(seriesOf(walk, once, false)), reading, once)
  return { ...known, pose }
}

/** The lens by which a turn is told in degrees: the walk's own, or the data sheet's where that is not in doubt; null where neither tells how it bends. */
function sceneLens({ lens, pose }: Lenses, foretold: LensReading | null, light: string): CameraLens | null {
  if (lens !== null) return (lens.byLight.get(light) ?? [...lens.byLight.values()][0])?.lens ?? null
  return (foretold?.lens ?? null) === null ? null : pose
}

/** The stills that count, once each though they show several references. */
function registrable(stills: readonly MeasuredStill[]): StillOfScene[] {
  const counted = new Map(stills.filter(counts).map((still) => [still.file, still]))
  return [...counted.values()].map(({ file, sha256, light, distanceM, measurement: { width, height } }) => ({
    file,
    sha256,
    light,
    distanceM,
    width,
    height,
  }))
}

function lightsOf(stills: readonly MeasuredStill[]): (file: string) => string | undefined {
  const lights = new Map(stills.map(({ file, light }) => [file, light]))
  return (file) => lights.get(file)
}

function measuredStills(
  walk: Walk,
  { plan }: MeasuringPlan,
  done: readonly (StillTaskResult | null)[],
): MeasuredStill[] {
  return done.flatMap((result, index): MeasuredStill[] => {
    if (result?.ok !== true) return []
    const { task, light, distanceM, problems } = plan.planned[index]!
    const { measurement, sha256, takenAt, reference, pick } = result
    return [
      {
        measuredOn: { reference, pick },
        file: task.file,
        sha256,
        takenAt,
        sameAs: null,
        alike: [],
        light,
        reference: reference.name,
        distanceM,
        lineOfSightM: lineOfSightM(walk, reference.name, distanceM),
        ...gradedStill(walk, measurement, problems, light),
        planProblems: problems,
      },
    ]
  })
}

/** The stills with those that may be the same picture by a second look. */
async function withAlike(stills: readonly MeasuredStill[], look: LookAgain): Promise<MeasuredStill[]> {
  const pairs = (await look(suspectedPairs(stills))).map(({ one, other }) => [one.file, other.file])
  return stills.map((still) => {
    const alike = pairs.flatMap((pair) => (pair.includes(still.file) ? pair : []))
    return { ...still, alike: [...new Set(alike)].filter((file) => file !== still.file) }
  })
}

/** Whether a still is the one that is shown of its picture. */
function isShownOnce({ sameAs }: MeasuredStill): boolean {
  return sameAs === null
}

/** Whether a still counts: a picture does once, and where it is of its series. */
function counts(still: MeasuredStill): boolean {
  return isShownOnce(still) && whyApart(still.measurement.problems) === undefined
}

/** The still with why it stands apart, where it does. */
function withReason(still: MeasuredStill, why: Problem | undefined): MeasuredStill {
  if (why === undefined) return still
  const { measurement } = still
  return { ...still, measurement: { ...measurement, problems: [...measurement.problems, why] } }
}

/** The still with what it shows again, and what is told of that. */
function shownAgain(still: MeasuredStill, again: ReadonlyMap<string, ShownAgain>): MeasuredStill {
  const shown = again.get(still.file)
  if (shown === undefined) return still
  const told = shown.problem === null ? [] : [shown.problem]
  return {
    ...still,
    sameAs: shown.sameAs,
    planProblems: [...still.planProblems, ...told],
    problems: [...still.problems, ...told],
  }
}

async function failedStills(
  walk: Walk,
  { plan }: MeasuringPlan,
  done: readonly (StillTaskResult | null)[],
): Promise<FailedStill[]> {
  const failed = [...plan.failed]
  for (const still of plan.unpicked) failed.push(await unpickedStill(walk.dir, still))
  for (const [index, result] of done.entries()) {
    if (result?.ok !== false) continue
    const { task, light, distanceM } = plan.planned[index]!
    const { code, message, sha256 } = result
    failed.push({
      file: task.file,
      code,
      message,
      sha256,
      light,
      distanceM,
      reference: soughtReference(task.subject),
    })
  }
  return failed.sort((a, b) => (a.file < b.file ? -1 : a.file > b.file ? 1 : 0))
}

/** What a still was to show: the reference of its pick, or the only chart that was looked for. */
export function soughtReference(subject: StillTask['subject']): string | null {
  if (subject.kind === 'picked') return subject.reference.name
  return subject.charts.length === 1 ? (subject.charts[0]?.name ?? null) : null
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
function gradedStill(
  walk: Walk,
  measurement: StillMeasurement,
  planProblems: readonly Problem[],
  light: string,
) {
  const graded = gradeStill(measurement, walk.grading, walk.judge, light)
  return { measurement, ...graded, problems: [...planProblems, ...graded.problems] }
}

/** The still with its points read through the walk's lens where that is known, else with pose and facing density by the lens there is. */
function throughWalkLens(
  walk: Walk,
  still: MeasuredStill,
  known: LensOfStills | null,
  pose: CameraLens | null,
): MeasuredStill {
  // Another size would need another lens.
  if (whyApart(still.measurement.problems) !== undefined) return still
  const { measurement, measuredOn, lineOfSightM, light } = still
  const { reference, pick } = measuredOn
  const fits = known !== null && measurement.width === known.width && measurement.height === known.height
  const lens = fits ? (known.byLight.get(light) ?? [...known.byLight.values()][0]) : undefined
  const read = lens === undefined ? null : readThroughLens(measurement, reference, pick, lineOfSightM, lens)
  if (read !== null)
    return { ...still, ...gradedStill(walk, read, still.planProblems, light), throughLens: true }
  if (pose === null) return still
  return { ...still, measurement: posedThroughLens(measurement, reference, pick, lineOfSightM, pose) }
}

/** Plates whose border nobody measured: it was taken from a still that shows it. */
function bordersSeen({ references }: Walk): WalkFinding[] {
  return references.flatMap(({ name, reference }) => {
    const seenIn = reference.kind === 'rectangle' ? reference.border?.seenIn : undefined
    return seenIn === undefined
      ? []
      : [{ ...problem(measuringSays['border-seen'](name, seenIn)), reference: name }]
  })
}

/** What was added to every taped distance, where the tape begins elsewhere than at the lens. */
function beginsFindings({ distance: { beginsM }, units }: Walk): Problem[] {
  if (beginsM === 0) return []
  const by = figuresFor(units).distance(Math.abs(beginsM))
  return [problem(measuringSays['begins-added'](by, beginsM > 0))]
}
