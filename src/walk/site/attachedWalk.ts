import { textOf } from '../../files/readInnerFile.js'
import { success } from '../../math/outcome.js'
import { type MeasuringPlan, planMeasuring } from '../measure/planMeasuring.js'
import { parsePicks } from '../read/readPicks.js'
import { parseWalk } from '../read/parseWalk.js'
import { namedGrading } from '../read/readGrading.js'
import type { Walk } from '../read/walk.js'
import type { WalkResults } from '../schemas/resultsSchema.js'
import { PICK_WITHOUT_STILL } from '../stills/planStills.js'

/**
 * The walk of a sheet, from what is attached to it alone, and what there was to measure: the stills its results name. The walk's own grading file, which is not attached, is
 * taken as the results have it; which stills had no corners cannot be told.
 * @throws `ProofwalkError` or `ProofwalkErrors` where walk.yaml or picks.json cannot be read
 */
export async function attachedWalk(
  results: WalkResults,
  walkYaml: Uint8Array,
  picksJson: Uint8Array | null,
): Promise<{ readonly walk: Walk; readonly plan: MeasuringPlan }> {
  const { inputs, grading, stills, failed, unassigned } = results
  const walk = await parseWalk(textOf(walkYaml, 'walk.yaml'), {
    file: 'walk.yaml',
    dir: '',
    sha256: inputs.walk ?? '',
    findGrading: (named) =>
      inputs.grading === null ? namedGrading(named) : { grading, sha256: inputs.grading },
  })
  const there = failed.filter(({ code }) => code !== PICK_WITHOUT_STILL)
  const files = new Set([...stills, ...there, ...unassigned].map(({ file }) => file))
  const listed = [...files].sort().map((path) => ({ path, facts: success('file' as const), isListed: true }))
  const byFile = picksJson === null ? new Map() : parsePicks(textOf(picksJson, 'picks.json'), 'picks.json')
  const measuring = await planMeasuring(walk, listed, {
    picks: { sha256: inputs.picks, byFile },
    readings: inputs.readings === undefined ? null : { sha256: inputs.readings, scored: results.readings },
  })
  return { walk, plan: { ...measuring, plan: { ...measuring.plan, unpicked: [] } } }
}
