import { ProofwalkError, ProofwalkErrors } from '../../errors.js'
import { groundFaults } from './groundFaults.js'
import { sha256Of } from '../../files/fileSha256.js'
import { jsonSchemaOf } from '../../files/jsonSchemaNode.js'
import { parseYaml } from '../../files/parseYaml.js'
import { plainYaml } from '../../files/plainYaml.js'
import { namedGrading, type FoundGrading } from './readGrading.js'
import { resolveWalk } from './resolveWalk.js'
import { fieldFault, schemaFaults } from '../../files/schemaFaults.js'
import type { Walk } from './walk.js'
import { walkFaults } from './walkFaults.js'
import { walkSchema } from '../schemas/walkSchema.js'

/** Made once: a site's walks are read by the dozen. */
const WALK_JSON_SCHEMA = jsonSchemaOf(walkSchema)

const DEFAULT_GRADING = 'iec-62676-4-2014'

/** What the text of a walk does not say itself. */
export interface WalkText {
  /** The file as the user named it; stands in every fault. */
  readonly file: string
  readonly dir: string
  /** SHA-256 of the file's bytes. */
  readonly sha256: string
  /** Finds the grading a walk names; only built-in ones where it is left out. */
  readonly findGrading?: (named: string) => FoundGrading | Promise<FoundGrading>
}

/**
 * Reads a walk from the text of its walk.yaml.
 * @throws `ProofwalkErrors` with every fault of the file: those of the syntax alone where it cannot be read at all, else unknown keys, values, names that nothing has, and what a walk along the ground lacks, together, and those of its grading file
 */
export async function parseWalk(text: string, about: WalkText): Promise<Walk> {
  const { file } = about
  const schema = WALK_JSON_SCHEMA
  const { contents, lineOf } = parseYaml(text, file, schema)
  const of = { file, schema, contents, lineOf }
  const gradingFaults: ProofwalkError[] = []
  let found: FoundGrading | null = null
  try {
    found = await (about.findGrading ?? namedGrading)(gradingNamedIn(contents))
  } catch (error) {
    if (!(error instanceof ProofwalkError)) throw error
    if (error instanceof ProofwalkErrors) gradingFaults.push(...error.faults)
    else if (error.place.file !== undefined) gradingFaults.push(error)
    else gradingFaults.push(fieldFault(of, ['grading'], { ...error, message: error.message, ...error.place }))
  }
  const parsed = walkSchema.safeParse(contents)
  const faults = [
    ...(parsed.success ? [] : schemaFaults(parsed.error.issues, of)),
    ...gradingFaults,
    ...walkFaults(of, found?.grading ?? null),
    ...groundFaults(of),
  ]
  if (faults.length > 0 || !parsed.success || found === null) throw new ProofwalkErrors(faults)
  const walkPlainSha256 = sha256Of(plainYaml(text))
  return resolveWalk(parsed.data, found, { dir: about.dir, walkSha256: about.sha256, walkPlainSha256 })
}

/** What the walk names as its grading; the default where it names none or where the schema will complain. */
function gradingNamedIn(contents: unknown): string {
  const named: unknown =
    typeof contents === 'object' && contents !== null && 'grading' in contents ? contents.grading : undefined
  return typeof named === 'string' && named.trim() !== '' ? named : DEFAULT_GRADING
}
