import { type JsonSchemaNode, jsonSchemaOf, knownKeys } from '../../files/jsonSchemaNode.js'
import { resultsSchema, type WalkResults } from '../schemas/resultsSchema.js'

/** A field of results.json that says another thing than what was judged or measured again; undefined where one of both has none. */
export interface DifferingField {
  /** As in `promises[0].verdict`. */
  readonly path: string
  readonly said: unknown
  readonly again: unknown
}

/** So much of itself, and so much in whatever unit near nought, is the last digit a file keeps: no other figure. This project's convention. */
const LAST_DIGITS_REL = 5e-6
const LAST_DIGITS = 1e-6

/** Every field in which results differ from the same made again, in the file's order. Keys that the schema does not know are another release's and are passed over. */
export function differingFields(said: WalkResults, again: WalkResults): DifferingField[] {
  return between(said, JSON.parse(JSON.stringify(again)) as unknown, [], jsonSchemaOf(resultsSchema))
}

/** One field in words: `promises[0].verdict says "met"; judged again, it is "not met"`. */
export function differenceWords({ path, said, again }: DifferingField, how: 'judged' | 'measured'): string {
  return `${path} says ${inShort(said)}; ${how} again, it is ${inShort(again)}`
}

function inShort(value: unknown): string {
  if (value === undefined) return 'nothing'
  const text = JSON.stringify(value)
  return text.length > MOST_SHOWN ? `${text.slice(0, MOST_SHOWN)} ...` : text
}

const MOST_SHOWN = 120

function between(
  said: unknown,
  again: unknown,
  path: readonly (string | number)[],
  schema: JsonSchemaNode,
): DifferingField[] {
  if (Array.isArray(said) && Array.isArray(again)) {
    const [one, other] = path.at(-1) === 'problems' ? [byCode(said), byCode(again)] : [said, again]
    return Array.from({ length: Math.max(one.length, other.length) }, (_, index) =>
      between(one[index], other[index], [...path, index], schema),
    ).flat()
  }
  if (isGroup(said) && isGroup(again)) {
    const known = knownKeys(schema, path)
    const keys = [...new Set([...Object.keys(said), ...Object.keys(again)])]
    return keys
      .filter((key) => known.length === 0 || known.includes(key))
      .flatMap((key) => between(said[key], again[key], [...path, key], schema))
  }
  if (typeof said === 'number' && typeof again === 'number') {
    const most = LAST_DIGITS + LAST_DIGITS_REL * Math.max(Math.abs(said), Math.abs(again))
    if (Math.abs(said - again) <= most) return []
  }
  return said === again ? [] : [{ path: written(path), said, again }]
}

/** Problems are told in no order that matters. */
function byCode(problems: readonly unknown[]): unknown[] {
  const code = (one: unknown): string => (isGroup(one) ? String(one.code) : '')
  return [...problems].sort((a, b) => (code(a) < code(b) ? -1 : code(a) > code(b) ? 1 : 0))
}

function isGroup(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
}

function written(path: readonly (string | number)[]): string {
  return path
    .map((step) => (typeof step === 'number' ? `[${step}]` : `.${step}`))
    .join('')
    .slice(1)
}
