import { join } from 'node:path'
import { isDeepStrictEqual } from 'node:util'
import { ProofwalkError } from '../../errors.js'
import { METHOD_VERSION } from '../../measure/stillMeasurement.js'
import type { FoundStills } from '../stills/findStills.js'
import { fileSha256, sha256Of } from '../../files/fileSha256.js'
import { PICK_WITHOUT_STILL } from '../stills/planStills.js'
import { jsonOrNull, readInnerFile } from '../../files/readInnerFile.js'
import { type WalkResults, resultsSchema } from '../schemas/resultsSchema.js'
import type { Said } from '../../sentences.js'
import type { Walk } from '../read/walk.js'
import { differenceWords, differingFields } from './differingFields.js'
import { judgeAgain } from './judgeAgain.js'
import { type MeasuringPlan, planMeasuring } from './planMeasuring.js'
import { measuringSays } from './sentences.js'

/** Failures that follow from walk.yaml and picks.json alone. */
const OF_INPUTS: ReadonlySet<string> = new Set([PICK_WITHOUT_STILL, 'reference-untold', 'reference-unknown'])

/** Results that belong to their walk: as they are read, fields that came after their release filled in, and the hash of the file's own bytes. */
export interface CurrentResults {
  readonly results: WalkResults
  readonly sha256: string
}

/** Why results cannot stand for a walk: in the reader's words. */
export interface StaleResults {
  readonly results: null
  readonly why: string
}

/**
 * The results of a walk's folder, where they still belong to its walk.yaml, picks.json, grading and stills, by their hashes; else why not.
 * They are judged again from their stills' own entries, and do not stand where they say otherwise.
 * Every still is read to be hashed; nothing is decoded.
 * @throws `ProofwalkError` where picks.json cannot be read
 */
export async function currentResults(walk: Walk): Promise<CurrentResults | StaleResults> {
  const bytes = await readResults(walk.dir)
  if (bytes === null) return stale(measuringSays['no-results-yet']())
  const contents = jsonOrNull(bytes)
  const read = resultsSchema.safeParse(contents)
  if (!read.success) return stale(measuringSays['results-of-other-version']())
  // As they lie in the file, keys in their order, unless something had to be filled in.
  const results = isDeepStrictEqual(read.data, contents) ? (contents as WalkResults) : read.data
  if (results.method !== METHOD_VERSION) return stale(measuringSays['method-changed']())
  if (results.inputs.walk !== walk.walkSha256) return changed('walk.yaml')
  if (results.inputs.grading !== walk.gradingSha256) return changed('the grading file')
  const picks = await readInnerFile(walk.dir, 'picks.json')
  if (results.inputs.picks !== (picks === null ? null : sha256Of(picks))) return changed('picks.json')
  if (results.failed.some(({ code, sha256 }) => !OF_INPUTS.has(code) && (sha256 ?? null) === null))
    return stale(measuringSays['stills-not-opened']())
  const plan = await planMeasuring(walk)
  if (results.inputs.readings !== plan.readings?.sha256) return changed('readings.json')
  const file = await changedStill(walk, plan.found, results)
  if (file !== null) return changed(file)
  const wrong = await saidOtherwise(walk, plan, results)
  return wrong === null
    ? { results, sha256: sha256Of(bytes) }
    : stale(measuringSays['results-say-otherwise'](wrong))
}

/** What results say otherwise than comes out when they are judged again; null where nothing: what was written into them by hand is never believed. */
async function saidOtherwise(walk: Walk, plan: MeasuringPlan, results: WalkResults): Promise<string | null> {
  try {
    const [first, ...others] = differingFields(results, await judgeAgain(walk, plan, results))
    if (first === undefined) return null
    const more = others.length === 0 ? '' : `, and ${others.length} more`
    return `${differenceWords(first, 'judged')}${more}`
  } catch (error) {
    if (error instanceof ProofwalkError) return `cannot be judged again: ${error.message}`
    throw error
  }
}

/** The bytes of results.json; null where there is no ordinary file to read: measuring puts one in its place. */
async function readResults(dir: string): Promise<Uint8Array | null> {
  try {
    return await readInnerFile(dir, 'results.json')
  } catch (error) {
    if (error instanceof ProofwalkError) return null
    throw error
  }
}

function stale({ message }: Said): StaleResults {
  return { results: null, why: message }
}

function changed(what: string): StaleResults {
  return stale(measuringSays['input-changed'](what))
}

/** The first still that came, went or changed since the results were made; null where none did. */
async function changedStill(walk: Walk, found: FoundStills, results: WalkResults): Promise<string | null> {
  const here = [...found.assigned, ...found.unassigned].map(({ file }) => file)
  const failed = results.failed.filter(({ code }) => code !== PICK_WITHOUT_STILL)
  const told = [...results.stills, ...failed, ...results.unassigned].map(({ file }) => file)
  const different = [
    ...here.filter((file) => !told.includes(file)),
    ...told.filter((file) => !here.includes(file)),
  ]
  if (different[0] !== undefined) return different[0]
  for (const { file, sha256 } of [...results.stills, ...failed]) {
    if ((sha256 ?? null) !== null && (await fileSha256(join(walk.dir, file))) !== sha256) return file
  }
  return null
}
