import type { JudgedStill, MarkResult } from '../../grade/judgement.js'
import { whyApart } from '../../grade/marks/seriesSize.js'
import { METHOD_VERSION } from '../../measure/stillMeasurement.js'
import { isSameMark } from '../read/sameMark.js'
import type { Walk } from '../read/walk.js'
import type { WalkResults } from '../schemas/resultsSchema.js'
import { roundNumbers } from '../../units/roundNumbers.js'
import type { JudgedWalk } from './judgeMeasured.js'
import { measuredWalk } from './measuredWalk.js'
import type { MeasuringPlan } from './planMeasuring.js'
import { stillEntry } from './stillEntry.js'

/** What `results.json` says of a judged walk, its numbers rounded. */
export function resultsOf(
  walk: Walk,
  { picks, found, readings }: MeasuringPlan,
  judged: JudgedWalk,
): WalkResults {
  const { judgement } = judged
  return roundNumbers({
    format: 'proofwalk-results/1',
    method: METHOD_VERSION,
    inputs: {
      walk: walk.walkSha256,
      picks: picks.sha256,
      grading: walk.gradingSha256,
      walkPlain: walk.walkPlainSha256,
      ...(readings === null ? {} : { readings: readings.sha256 }),
    },
    walk: { ...measuredWalk(walk), ...judged.dated },
    grading: {
      ...walk.grading,
      grades: walk.grading.grades.map((grade) => ({ ...grade })),
    },
    stills: judged.stills.map(({ measuredOn, ...still }) => {
      const isCounted = still.sameAs === null && whyApart(still.measurement.problems) === undefined
      const detailFrom = isCounted ? lenderOf(still, judgement.marks) : null
      const place = { ...still, pick: measuredOn.pick, detailFrom }
      return stillEntry(place, still.measurement, still, still.problems)
    }),
    marks: judgement.marks.map((mark) => ({ ...mark })),
    ranges: judgement.ranges.map((range) => ({ ...range })),
    triggers: judgement.triggers.map((trigger) => ({ ...trigger })),
    lens: judgement.lens.map((lens) => ({ ...lens })),
    projection: judged.projection,
    promises: judgement.promises.map((promise) => ({ ...promise })),
    findings: judged.findings.map(({ code, message, ...told }) => ({
      code,
      message,
      light: told.light ?? null,
      reference: told.reference ?? null,
      value: told.value ?? null,
      low: told.low ?? null,
      high: told.high ?? null,
    })),
    scene: judged.scene && {
      stills: judged.scene.stills.map((still) => ({ ...still })),
      lights: judged.scene.lights.map((light) => ({ ...light })),
    },
    readings: judged.readings.map((reading) => ({ ...reading })),
    unassigned: found.unassigned.map(({ file, message }) => ({ file, message })),
    failed: judged.failed.map(({ distanceM, ...one }) => ({ ...one, distance: distanceM })),
  })
}

/** The reference that a still's mark took its detail from, or null. */
function lenderOf(still: JudgedStill, marks: readonly MarkResult[]): string | null {
  const own = marks.find(
    ({ light, reference, distance }) =>
      light === still.light && reference === still.reference && isSameMark(distance, still.distanceM),
  )
  return own?.detailFrom ?? null
}
