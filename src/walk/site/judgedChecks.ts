import { ProofwalkError } from '../../errors.js'
import { METHOD_VERSION } from '../../measure/stillMeasurement.js'
import { type DifferingField, differingFields, differenceWords } from '../measure/differingFields.js'
import { judgeAgain } from '../measure/judgeAgain.js'
import { measureWalk, type MeasureWalkOptions } from '../measure/measureWalk.js'
import { type MeasuringPlan, planMeasuring } from '../measure/planMeasuring.js'
import type { Walk } from '../read/walk.js'
import { resultsSchema, type WalkResults } from '../schemas/resultsSchema.js'
import { siteSays } from './sentences.js'
import { matching, notChecked, notMatching, type VerificationCheck } from './verification.js'

/** What results are held against, and how they are called there. */
interface JudgedAgain {
  readonly what: string
  readonly walk: Walk
  readonly plan?: MeasuringPlan
  /** Fields that cannot be told here. */
  readonly except?: (field: DifferingField) => boolean
  /** Given where all stills are to be measured again. */
  readonly deep?: MeasureWalkOptions | null
}

/**
 * Whether results say what comes out when their walk is judged again from their stills' entries, or with `deep`, when every still is measured again: a check a field
 * that does not. The files they were made from have to be those that are held against them. Results of another method are not checked.
 * @throws what is a fault of our own
 */
export async function judgedChecks(contents: unknown, about: JudgedAgain): Promise<VerificationCheck[]> {
  const { what, deep = null, except = () => false } = about
  const read = resultsSchema.safeParse(contents)
  const method = methodOf(contents)
  if (method !== METHOD_VERSION) return [notChecked(what, method)]
  if (!read.success) return [notMatching(what, siteSays['no-results-text']())]
  const again = await madeAgain(about, read.data)
  if (again instanceof ProofwalkError) return [notMatching(what, siteSays['cannot-be-judged'](again.message))]
  const wrong = differingFields(read.data, again).filter((field) => !except(field))
  if (wrong.length > 0)
    return wrong.map((field) =>
      notMatching(
        what,
        siteSays['said-otherwise'](differenceWords(field, deep === null ? 'judged' : 'measured')),
      ),
    )
  return [matching(what, siteSays[deep === null ? 'judged-again' : 'measured-again']())]
}

async function madeAgain(
  { walk, plan, deep = null }: JudgedAgain,
  results: WalkResults,
): Promise<WalkResults | ProofwalkError> {
  try {
    if (deep !== null) return await measureWalk(walk, { ...deep, scene: results.scene !== null })
    return await judgeAgain(walk, plan ?? (await planMeasuring(walk)), results)
  } catch (error) {
    if (error instanceof ProofwalkError) return error
    throw error
  }
}

function methodOf(contents: unknown): string {
  const method = typeof contents === 'object' && contents !== null && 'method' in contents && contents.method
  return String(method)
}
