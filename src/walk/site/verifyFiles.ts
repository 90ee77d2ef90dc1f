import { join } from 'node:path'
import { ProofwalkError } from '../../errors.js'
import { hashFile, sha256Of } from '../../files/fileSha256.js'
import { listStillFiles } from '../stills/listStillFiles.js'
import { mapFew } from '../../files/mapFew.js'
import { pickOfEntry, picksSchema } from '../schemas/picksSchema.js'
import { PICK_WITHOUT_STILL } from '../stills/planStills.js'
import { jsonOrNull, readInnerFile } from '../../files/readInnerFile.js'
import { readWalk } from '../read/readWalk.js'
import { type ResultsHashes, resultsHashesSchema } from '../schemas/resultsHashes.js'
import type { MeasureWalkOptions } from '../measure/measureWalk.js'
import { judgedChecks } from './judgedChecks.js'
import { fault } from '../../sentences.js'
import { siteSays } from './sentences.js'
import { matching, notMatching, type VerificationCheck } from './verification.js'

/** The files of a walk's folder held against its results. */
export interface VerifiedFiles {
  readonly checks: readonly VerificationCheck[]
  /** The bytes of the folder's own files, for who holds a sheet against them; null where a file is not there. */
  readonly files: ReadonlyMap<string, Uint8Array | null>
}

/**
 * Whether walk.yaml, picks.json, the grading file and every still of a walk's folder are the ones its results.json was measured from, by their hashes, whichever release
 * measured it; where they are, whether its fields follow from its stills' entries, or with `deep`, from the stills themselves. Without `deep` no still is decoded.
 * @throws `ProofwalkError` `no-results` where there is nothing to hold them against
 */
export async function verifyFiles(
  dir: string,
  deep: MeasureWalkOptions | null = null,
): Promise<VerifiedFiles> {
  const files = new Map<string, Uint8Array | null>()
  for (const name of ['results.json', 'walk.yaml', 'picks.json', 'readings.json']) {
    files.set(name, await readInnerFile(dir, name))
  }
  const bytes = files.get('results.json') ?? null
  if (bytes === null) throw fault(siteSays['no-results'](dir), { file: dir })
  const results = resultsHashesSchema.safeParse(jsonOrNull(bytes))
  if (!results.success) return { checks: [notMatching('results.json', siteSays['no-results-text']())], files }
  const checks = [
    hashCheck('walk.yaml', files.get('walk.yaml') ?? null, results.data.inputs.walk),
    hashCheck('picks.json', files.get('picks.json') ?? null, results.data.inputs.picks),
    ...readingsCheck(files.get('readings.json') ?? null, results.data.inputs.readings),
    ...(await gradingCheck(dir, results.data)),
    ...(await stillChecks(dir, results.data)),
    ...pickChecks(results.data, files.get('picks.json') ?? null),
  ]
  const isOther = checks.some(({ matches }) => matches === false)
  const judged = isOther ? [NOT_JUDGED] : await againChecks(dir, jsonOrNull(bytes), deep)
  return { checks: [...checks, ...judged], files }
}

/** Of results whose files are others now: what they say of those files cannot be told. */
const NOT_JUDGED: VerificationCheck = {
  what: 'results.json',
  matches: null,
  message: siteSays['not-judged-again']().message,
}

async function againChecks(
  dir: string,
  contents: unknown,
  deep: MeasureWalkOptions | null,
): Promise<VerificationCheck[]> {
  try {
    return await judgedChecks(contents, { what: 'results.json', walk: await readWalk(dir), deep })
  } catch (error) {
    if (error instanceof ProofwalkError) return [NOT_JUDGED]
    throw error
  }
}

function hashCheck(name: string, bytes: Uint8Array | null, sha256: string | null): VerificationCheck {
  if (bytes === null)
    return sha256 === null ? matching(name, siteSays['none-as-then']()) : notMatching(name, siteSays.gone())
  return sha256 === null ? notMatching(name, siteSays.come()) : sameOrNot(name, sha256Of(bytes) === sha256)
}

/** Most walks have no reading trial, and nothing is said of it then. */
function readingsCheck(bytes: Uint8Array | null, sha256: string | null): VerificationCheck[] {
  return bytes === null && sha256 === null ? [] : [hashCheck('readings.json', bytes, sha256)]
}

function sameOrNot(name: string, isSame: boolean): VerificationCheck {
  return isSame ? matching(name, siteSays.same()) : notMatching(name, siteSays.changed())
}

/** The walk's own grading file is named in walk.yaml, so that has to be readable. */
async function gradingCheck(dir: string, results: ResultsHashes): Promise<VerificationCheck[]> {
  const { grading } = results.inputs
  if (grading === null) return []
  try {
    const { gradingSha256 } = await readWalk(dir)
    return [sameOrNot('the grading file', gradingSha256 === grading)]
  } catch (error) {
    if (!(error instanceof ProofwalkError)) throw error
    return [notMatching('the grading file', siteSays['grading-untold']())]
  }
}

/** How many stills are read at a time: enough to keep the disk and the hashing threads busy. */
const AT_A_TIME = 4

async function stillChecks(dir: string, results: ResultsHashes): Promise<VerificationCheck[]> {
  const hashed = [...results.stills, ...results.failed].flatMap(({ file, sha256 }) =>
    sha256 === null ? [] : [{ file, sha256 }],
  )
  const once = new Map(hashed.map((one) => [JSON.stringify(one), one]))
  const checks = await mapFew([...once.values()], AT_A_TIME, async ({ file, sha256 }) => {
    const now = await hashFile(join(dir, file))
    if (now.ok && now.value === sha256) return matching(file, siteSays['still-same']())
    return notMatching(file, now.ok ? siteSays['still-changed']() : siteSays['still-unread'](now.code))
  })
  const failed = results.failed.filter(
    ({ code, file }) => code !== PICK_WITHOUT_STILL && !hashed.some((one) => one.file === file),
  )
  const others = [...failed, ...results.unassigned].map(({ file }) => file)
  const measured = hashed.map(({ file }) => file)
  const all = await listStillFiles(dir, [...measured, ...others])
  const here = all.filter(({ facts, isListed }) => isListed || facts.ok)
  const known = new Set([...measured, ...others].map((file) => file.normalize('NFC')))
  const come = here.filter(({ path }) => !known.has(path.normalize('NFC')))
  return [
    ...checks,
    ...come.map(({ path }) => notMatching(path, siteSays['still-come']())),
    ...others
      .filter((file) => !here.some(({ path }) => path.normalize('NFC') === file.normalize('NFC')))
      .map((file) => notMatching(file, siteSays['other-gone']())),
  ]
}

function pickChecks(results: ResultsHashes, bytes: Uint8Array | null): VerificationCheck[] {
  if (bytes === null) return []
  const picks = picksSchema.safeParse(jsonOrNull(bytes))
  if (!picks.success) return []
  return results.stills.flatMap((still) => {
    const pick = pickOfEntry(picks.data, still)
    if (still.method !== 'picks' || (pick !== undefined && pick.sha256 === still.sha256)) return []
    return [notMatching(still.file, siteSays[pick === undefined ? 'pick-gone' : 'pick-of-other']())]
  })
}
