import { join } from 'node:path'
import { ProofwalkErrors } from '../../errors.js'
import type { Pick } from '../../measure/reference/pick.js'
import { sha256Of } from '../../files/fileSha256.js'
import { jsonSchemaOf } from '../../files/jsonSchemaNode.js'
import { jsonSlip } from '../../files/jsonSlip.js'
import { type PickEntry, picksSchema } from '../schemas/picksSchema.js'
import { readInnerFile, textOf } from '../../files/readInnerFile.js'
import { schemaFaults } from '../../files/schemaFaults.js'
import { fault } from '../../sentences.js'
import { readSays } from './sentences.js'

/** The pick of one still: which reference its points are of, and the hash of the still they were clicked on. */
export interface StillPick {
  /** Null where it names none: the walk's only one is meant. */
  readonly reference: string | null
  readonly sha256: string
  readonly pick: Pick
}

/** All picks of a walk, one a reference, by the still's path from the walk's folder; `sha256` of picks.json, null where there is none. */
export interface Picks {
  readonly sha256: string | null
  readonly byFile: ReadonlyMap<string, readonly StillPick[]>
}

/**
 * Reads the picks.json of a walk's folder; where there is none, there are no picks. Whether a still is there, has
 * changed, or has such a reference is for the measuring to tell.
 * @throws `ProofwalkErrors` with every fault
 */
export async function readPicks(dir: string): Promise<Picks> {
  const file = join(dir, 'picks.json')
  const bytes = await readInnerFile(dir, 'picks.json')
  if (bytes === null) return { sha256: null, byFile: new Map() }
  return { sha256: sha256Of(bytes), byFile: parsePicks(textOf(bytes, file), file) }
}

/**
 * Reads picks from the text of their file.
 * @throws `ProofwalkErrors` with every fault
 */
export function parsePicks(text: string, file: string): Picks['byFile'] {
  const contents = parseJson(text, file)
  const parsed = picksSchema.safeParse(contents)
  if (!parsed.success) {
    const schema = jsonSchemaOf(picksSchema)
    throw new ProofwalkErrors(schemaFaults(parsed.error.issues, { file, schema, contents, format: 'json' }))
  }
  return new Map(
    Object.entries(parsed.data.stills).map(([path, entry]) => [
      path.replace(/^(\.\/)+/, ''),
      [entry].flat().map(stillPickOf),
    ]),
  )
}

function stillPickOf(entry: PickEntry): StillPick {
  const { reference = null, sha256 } = entry
  return { reference, sha256, pick: pickOf(entry) }
}

function parseJson(text: string, file: string): unknown {
  try {
    return JSON.parse(text) as unknown
  } catch (error) {
    const slip = jsonSlip(text)
    const reason = error instanceof Error ? error.message.replace(/\s+/g, ' ').slice(0, 120) : 'not readable'
    const place = slip === null ? {} : { field: `line ${slip.line}, column ${slip.column}` }
    // As measuring prints the entry of a still without corners.
    const isUnfilled =
      slip !== null && /^x\s*,\s*y/.test(text.split('\n')[slip.line - 1]!.slice(slip.column - 1))
    throw new ProofwalkErrors([
      fault(readSays['bad-json'](slip?.message ?? reason, isUnfilled), { file, ...place }),
    ])
  }
}

/** The pick of an entry. */
export function pickOf(one: PickEntry): Pick {
  const noise = {
    method: one.method,
    sigmaPx: one.sigma,
    ...(one.covariance === undefined ? {} : { covariancePx2: one.covariance }),
    ...(one.doubts === undefined ? {} : { doubts: one.doubts }),
  }
  if (one.corners !== undefined) return { kind: 'corners', corners: one.corners, ...noise }
  return { kind: 'ends', ends: one.ends!, ...noise }
}
