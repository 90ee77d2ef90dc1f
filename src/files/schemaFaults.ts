import { stringify } from 'yaml'
import type * as z from 'zod'
import { ProofwalkError } from '../errors.js'
import { knownKeys, nodesAt, type JsonSchemaNode } from './jsonSchemaNode.js'
import { oneLine } from './oneLine.js'
import { mendByNearest, suggestNearest } from './suggestNearest.js'
import type { Said } from '../sentences.js'
import { FIELD_MENDS, filesSays } from './sentences.js'

/** What the faults of a file are told with: its name, its schema, its contents, and the lines of its fields. */
export interface FaultyFile {
  readonly file: string
  readonly schema: JsonSchemaNode
  readonly contents: unknown
  /** How its fields and mends are written; YAML where it is left out. */
  readonly format?: 'json'
  /** The line of a field, counted from 1, where the format has lines worth telling. */
  readonly lineOf?: (path: readonly PropertyKey[]) => number | null
}

type Issue = z.core.$ZodIssue
type Path = readonly PropertyKey[]

/** Every fault zod found in a file, as errors that name the file, the field and the mend. */
export function schemaFaults(issues: readonly Issue[], of: FaultyFile): ProofwalkError[] {
  return issues.flatMap((issue) => faultsOfIssue(issue, issue.path, of))
}

/** One fault of a field. Without a mend of its own it gets one from the field's example. */
export function fieldFault(of: FaultyFile, path: Path, { code, message, mend }: Said): ProofwalkError {
  const line = of.lineOf?.(path) ?? null
  const field = `${fieldName(path) || 'the whole file'}${line === null ? '' : ` (line ${line})`}`
  const told = mend ?? mendByExample(of, path)
  return new ProofwalkError(code, oneLine(message), {
    file: of.file,
    field: oneLine(field),
    ...(told === undefined ? {} : { mend: told }),
  })
}

/** A path as people write it: `promises[0].at`, and `stills["stills/day/7m.jpg"]` where a key is no plain word. */
function fieldName(path: Path): string {
  return path.reduce<string>((name, step) => {
    if (typeof step === 'number') return `${name}[${step}]`
    if (name !== '' && !/^[\p{L}\p{N}_-]+$/u.test(String(step))) return `${name}[${JSON.stringify(step)}]`
    return name === '' ? String(step) : `${name}.${String(step)}`
  }, '')
}

function faultsOfIssue(issue: Issue, path: Path, of: FaultyFile): ProofwalkError[] {
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.map((key) => unknownKey(of, path, key))
    case 'invalid_type':
      return [wrongKind(of, path, issue.expected)]
    case 'invalid_union':
      return faultsOfUnion(issue, path, of)
    case 'invalid_value':
      return [notOneOf(of, path)]
    case 'invalid_key':
      return [fieldFault(of, path, filesSays['bad-name'](issue.issues[0]?.message))]
    case 'too_small':
    case 'too_big':
      return [fieldFault(of, path, outOfBounds(issue))]
    case 'custom':
      return [fieldFault(of, path, { code: 'bad-value', message: issue.message, ...issue.params })]
    default:
      return [fieldFault(of, path, { code: 'bad-value', message: issue.message })]
  }
}

/** A key that is not there yet is the likelier meaning of an unknown one than a key that stands there already. */
function unknownKey(of: FaultyFile, path: Path, key: string): ProofwalkError {
  const known = knownKeys(of.schema, path)
  const present = Object.keys(valueAt(of.contents, path) ?? {})
  const free = known.filter((one) => !present.includes(one))
  const likely = suggestNearest(key, free) === null ? known : free
  return fieldFault(of, [...path, key], filesSays['unknown-key'](mendByNearest(key, likely)))
}

function wrongKind(of: FaultyFile, path: Path, expected: string): ProofwalkError {
  const value = valueAt(of.contents, path)
  if (value === undefined) return fieldFault(of, path, filesSays.missing())
  if (value === null) return fieldFault(of, path, filesSays.empty())
  return fieldFault(of, path, filesSays['wrong-kind'](expected))
}

/** Of the alternatives, the one that was most likely meant: one of its kind, the fewest unknown keys, then the fewest faults. */
function faultsOfUnion(issue: Extract<Issue, { code: 'invalid_union' }>, path: Path, of: FaultyFile) {
  const value = valueAt(of.contents, path)
  if (value === undefined || value === null) return [wrongKind(of, path, 'object')]
  if (typeof value !== 'object') return [notOneOf(of, path)]
  const cost = (issues: readonly Issue[]) => issues.reduce((sum, one) => sum + costOf(one), 0)
  const meant = [...issue.errors].sort((a, b) => cost(a) - cost(b))[0] ?? []
  return meant.flatMap((one) => faultsOfIssue(one, [...path, ...one.path], of))
}

function costOf(issue: Issue): number {
  if (issue.code === 'unrecognized_keys') return 10 * issue.keys.length
  return issue.code === 'invalid_type' && issue.path.length === 0 ? 1000 : 1
}

function notOneOf(of: FaultyFile, path: Path): ProofwalkError {
  const value = valueAt(of.contents, path)
  if (value === undefined || value === null) return wrongKind(of, path, 'string')
  const known = nodesAt(of.schema, path).flatMap((node) => node.enum ?? [])
  const words = known.filter((one) => typeof one === 'string')
  const shown = of.format === 'json' ? words.map((word) => JSON.stringify(word)) : words
  const near = typeof value === 'string' ? suggestNearest(value, words) : null
  const mend =
    words.length === 0
      ? undefined
      : near === null
        ? FIELD_MENDS.oneOf(shown)
        : FIELD_MENDS.near(shown[words.indexOf(near)]!)
  return fieldFault(of, path, {
    ...filesSays['not-understood'](value),
    ...(mend === undefined ? {} : { mend }),
  })
}

function outOfBounds(issue: Extract<Issue, { code: 'too_small' | 'too_big' }>): Said {
  const small = issue.code === 'too_small'
  const bound = small ? issue.minimum : issue.maximum
  if (issue.origin === 'string') return { code: 'out-of-bounds', message: issue.message }
  if (issue.origin === 'array' || issue.origin === 'set') {
    return small && Number(bound) === 1 ? filesSays['empty-list']() : filesSays['bad-count'](small, bound)
  }
  return filesSays['out-of-bounds'](small, bound, issue.inclusive !== false)
}

function mendByExample(of: FaultyFile, path: Path): string | undefined {
  const nodes = nodesAt(of.schema, path)
  const example = nodes.flatMap((node) => node.examples ?? [])[0]
  if (example === undefined) {
    const description = nodes.find((node) => node.description !== undefined)?.description
    return description === undefined ? undefined : FIELD_MENDS.kind(description)
  }
  const write = (part: unknown): string =>
    of.format === 'json'
      ? JSON.stringify(part)
      : stringify(part, { collectionStyle: 'flow', lineWidth: 0 }).trim()
  const key = path.at(-1)
  return FIELD_MENDS.example(`${typeof key === 'string' ? `${write(key)}: ` : ''}${write(example)}`)
}

function valueAt(contents: unknown, path: Path): unknown {
  return path.reduce<unknown>((value, step) => {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined
    return (value as Record<PropertyKey, unknown>)[step]
  }, contents)
}
