import { measureDensity } from '../../measure/density/density.js'
import { OTHER_SIZE } from '../../grade/marks/seriesSize.js'
import { SCENE_CODES } from '../../grade/scene/sceneApart.js'
import { measurementOf } from '../../measure/measureStill.js'
import type { Pick } from '../../measure/reference/pick.js'
import type { Reference } from '../../measure/reference/reference.js'
import type { Walk } from '../read/walk.js'
import type { StillEntry, WalkResults } from '../schemas/resultsSchema.js'
import type { LookAgain } from '../stills/lookAgain.js'
import type { SceneWitness } from '../scene/sceneWitness.js'
import type { StillTask, StillTaskResult } from '../stills/stillTask.js'
import { judgeMeasured, soughtReference } from './judgeMeasured.js'
import type { MeasuringPlan } from './planMeasuring.js'
import { measuringSays } from './sentences.js'
import { SAME_PICTURE } from './samePictures.js'
import { resultsOf } from './resultsOf.js'

/**
 * The results of a walk judged again: what only pixels show (a found chart's corners, sharpness, tone, how stills lie against each other, why a still could not be measured) is taken from its results;
 * density, interval, pose, lens, grades, marks, ranges and verdicts are made anew from that, from walk.yaml and from picks.json. No still is decoded.
 * @throws `ProofwalkError` where the results cannot be judged at all
 */
export async function judgeAgain(
  walk: Walk,
  plan: MeasuringPlan,
  results: WalkResults,
): Promise<WalkResults> {
  const done = plan.tasks.map((task, index) => {
    const told = new Set(plan.plan.planned[index]!.problems.map(({ code }) => code))
    return measuredAgain(task, told, results)
  })
  const wasAlike: LookAgain = (pairs) =>
    Promise.resolve(
      pairs.filter(({ one, other }) =>
        results.stills.some(({ file, alike = [] }) => file === one.file && alike.includes(other.file)),
      ),
    )
  const wasTold: SceneWitness = () => Promise.resolve(results.scene)
  return resultsOf(walk, plan, await judgeMeasured(walk, plan, done, wasAlike, wasTold))
}

/** What became of a task by its entry; `told` are the codes that were told of its still before it was opened. */
function measuredAgain(
  task: StillTask,
  told: ReadonlySet<string>,
  { stills, failed }: WalkResults,
): StillTaskResult {
  const { subject, file } = task
  const entry = stills.find(
    (one) =>
      one.file === file &&
      (subject.kind === 'picked'
        ? one.reference === subject.reference.name
        : subject.charts.some(({ name }) => name === one.reference)),
  )
  const points = entry === undefined ? null : pointsOf(entry, subject)
  if (entry === undefined || points === null) {
    const sought = soughtReference(subject)
    const failure = failed.find((one) => one.file === file && one.reference === sought)
    if (failure === undefined) {
      const isBeside = subject.kind === 'chart' && subject.beside === true
      return { ok: false, ...measuringSays[isBeside ? 'chart-none' : 'no-entry'](null), sha256: null }
    }
    return { ok: false, code: failure.code, message: failure.message, sha256: failure.sha256 ?? null }
  }
  const { reference, pick } = points
  const { width, height, sha256, takenAt = null } = entry
  const density = measureDensity(reference, pick, {
    stillWidth: width,
    stillHeight: height,
    distanceM: task.distanceM,
    lens: task.lens,
  })
  if (!density.ok) return { ...density, sha256 }
  const { sharpness, tone, strip } = entry
  const bare = measurementOf(entry, { pick, promisedSize: task.promisedSize }, density.value, {
    sharpness,
    tone,
    strip,
    problems: [],
  })
  const anew = new Set([
    SAME_PICTURE,
    OTHER_SIZE,
    ...SCENE_CODES,
    ...told,
    ...bare.problems.map(({ code }) => code),
  ])
  const byPixels = entry.problems.filter(({ code }) => !anew.has(code))
  const measurement = { ...bare, problems: [...bare.problems, ...byPixels], blocks: entry.blocks }
  return { ok: true, sha256, takenAt, reference, pick, measurement }
}

/** The reference and the points an entry was measured on: those of picks.json, else those that were found; null where it keeps none. */
function pointsOf(
  { reference: name, budget }: StillEntry,
  subject: StillTask['subject'],
): { readonly reference: Reference; readonly pick: Pick } | null {
  if (subject.kind === 'picked') return subject
  const reference = subject.charts.find((chart) => chart.name === name)
  const found = budget?.found
  if (reference === undefined || found === undefined) return null
  // Its covariance overrides the one sigma.
  return { reference, pick: { kind: 'corners', method: 'found', sigmaPx: 1, ...found } as Pick }
}
