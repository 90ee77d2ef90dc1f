import { join } from 'node:path'
import { ProofwalkErrors } from '../../errors.js'
import { builtInGrading, builtInGradings } from '../../grade/gradings/builtInGradings.js'
import type { Grading } from '../../grade/gradings/grading.js'
import { pathFault } from '../schemas/fieldSchemas.js'
import { gradingSchema } from '../schemas/gradingSchema.js'
import { sha256Of } from '../../files/fileSha256.js'
import { jsonSchemaOf } from '../../files/jsonSchemaNode.js'
import { parseYaml } from '../../files/parseYaml.js'
import { readInnerFile, textOf } from '../../files/readInnerFile.js'
import { schemaFaults } from '../../files/schemaFaults.js'
import { fault } from '../../sentences.js'
import { readSays } from './sentences.js'

/** A grading and the SHA-256 of the file it came from; null for a built-in one. */
export interface FoundGrading {
  readonly grading: Grading
  readonly sha256: string | null
}

/**
 * The built-in grading of that id.
 * @throws `ProofwalkError` `unknown-grading`, without a place: the caller knows which field named it
 */
export function namedGrading(id: string): FoundGrading {
  const grading = builtInGrading(id.trim().toLowerCase())
  if (grading !== null) return { grading, sha256: null }
  const ids = builtInGradings.map((one) => one.grading.id)
  throw fault(readSays['unknown-grading'](id, ids))
}

/**
 * The grading a walk names: a built-in id, or a path inside the walk (a name with a slash or ending in .json,
 * .yaml or .yml).
 * @throws `ProofwalkError` without a place where the name is at fault, with its file where it goes by a built-in one's, `ProofwalkErrors` with the grading file's name where its contents are
 */
export async function readGrading(dir: string, named: string): Promise<FoundGrading> {
  if (!/[/\\]|\.(json|ya?ml)$/i.test(named)) return namedGrading(named)
  const why = pathFault(named)
  if (why !== null) throw fault(readSays['path-leaves-walk'](named, why))
  const bytes = await readInnerFile(dir, named)
  if (bytes === null) throw fault(readSays['no-grading-file'](named))
  const file = join(dir, named)
  const grading = parseGrading(textOf(bytes, file), file)
  return { grading, sha256: sha256Of(bytes) }
}

/** Reads a grading from the text of its file. Throws `ProofwalkErrors` with every fault, `grading-not-own` where it goes by a built-in one's id or name. */
function parseGrading(text: string, file: string): Grading {
  const schema = jsonSchemaOf(gradingSchema)
  const { contents, lineOf } = parseYaml(text, file, schema)
  const parsed = gradingSchema.safeParse(contents)
  if (!parsed.success) {
    throw new ProofwalkErrors(schemaFaults(parsed.error.issues, { file, schema, contents, lineOf }))
  }
  const { id, name } = parsed.data
  // A sheet names its grading: limits of one's own under a standard's name would be read as the standard's.
  for (const { grading } of builtInGradings) {
    if (id.toLowerCase() === grading.id || name.toLowerCase() === grading.name.toLowerCase()) {
      throw fault(readSays['grading-not-own'](grading.name, grading.id), { file })
    }
  }
  return parsed.data
}
