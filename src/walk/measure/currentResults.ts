import { createHash } from 'node:crypto'
import { join } from 'node:path'
import { isDeepStrictEqual } from 'node:util'
import { ProofwalkError } from '../../errors.js'
import { METHOD_VERSION } from '../../measure/stillMeasurement.js'
import type { FoundStills } from '../stills/findStills.js'
import { fileSha256, hashingBuffer } from '../../files/fileSha256.js'
import { PICK_WITHOUT_STILL } from '../stills/planStills.js'
import { readInnerFile } from '../../files/readInnerFile.js'
import { type WalkResults, resultsSchema } from '../schemas/resultsSchema.js'
import type { Walk } from '../read/walk.js'
import { differenceWords, differingFields } from './differingFields.js'
import { judgeAgain } from './judgeAgain.js'
import { type MeasuringPlan, planMeasuring } from './planMeasuring.js'

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
  if (bytes === null) return stale('there are no results yet')
  const contents = jsonOf(new TextDecoder().decode(bytes))
  const read = resultsSchema.safeParse(contents)
  if (!read.success) return stale('results.json is not of this version')
  // As they lie in the file, keys in their order, unless something had to be filled in.
  const results = isDeepStrictEqual(read.data, contents) ? (contents as WalkResults) : read.data
  if (results.method !== METHOD_VERSION) return stale('the way of measuring has changed since')
  if (results.inputs.walk !== walk.walkSha256) return stale('walk.yaml has changed since')
  if (results.inputs.grading !== walk.gradingSha256) return stale('the grading file has changed since')
  if (results.inputs.picks !== (await picksSha256(walk.dir))) {
    return stale('picks.json has changed since')
  }
  if (results.failed.some(({ code, sha256 }) => !OF_INPUTS.has(code) && (sha256 ?? null) === null)) {
    return stale('some stills could not be opened then')
  }
  const plan = await planMeasuring(walk)
  const changed = await changedStill(walk, plan.found, results)
  if (changed !== null) return stale(`${changed} has changed since`)
  const wrong = await saidOtherwise(walk, plan, results)
  return wrong === null ? { results, sha256: sha256Of(bytes) } : stale(`results.json: ${wrong}`)
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

/** As the results know it. Throws `ProofwalkError` where picks.json cannot be read: measuring would as well. */
async function picksSha256(dir: string): Promise<string | null> {
  const bytes = await readInnerFile(dir, 'picks.json')
  return bytes === null ? null : sha256Of(bytes)
}

function sha256Of(bytes: Uint8Array): string {
  return createHash('sha256').update(bytes).digest('hex')
}

function stale(why: string): StaleResults {
  return { results: null, why }
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text)
  } catch {
    return null
  }
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
  const buffer = hashingBuffer()
  for (const { file, sha256 } of [...results.stills, ...failed]) {
    if ((sha256 ?? null) !== null && (await fileSha256(join(walk.dir, file), buffer)) !== sha256) return file
  }
  return null
}
