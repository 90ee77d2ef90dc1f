import { isNode, LineCounter, parseDocument, type Document, type YAMLError } from 'yaml'
import { ProofwalkError, ProofwalkErrors } from '../errors.js'
import { oneLine } from './oneLine.js'
import { alternatives, childNodes, type JsonSchemaNode } from './jsonSchemaNode.js'
import { fault } from '../sentences.js'
import { filesSays } from './sentences.js'

/** What stood in a YAML file, and where. */
export interface YamlContents {
  readonly contents: unknown
  /** The line of a field, counted from 1; of what surrounds it where the field is not there. */
  readonly lineOf: (path: readonly PropertyKey[]) => number | null
}

/** Aliases may be resolved this often in one file; more is a file made to explode. This project's convention. */
const MOST_ALIASES = 100

/**
 * Reads YAML 1.2 (so JSON too). Where the schema asks for text, the text is kept as it was written: `id: 007` is
 * "007" and not 7, `serial: 12e3` is "12e3". Duplicate keys, several documents and exploding aliases are faults.
 * @throws `ProofwalkErrors` with every fault of the syntax
 */
export function parseYaml(text: string, file: string, schema: JsonSchemaNode): YamlContents {
  const lines = new LineCounter()
  try {
    const typed = parseDocument(text, {
      schema: 'core',
      version: '1.2',
      prettyErrors: false,
      lineCounter: lines,
    })
    if (typed.errors.length > 0) {
      throw new ProofwalkErrors(
        worthTelling(typed.errors).map((error) => syntaxFault(error, text, file, lines)),
      )
    }
    const written = parseDocument(text, { schema: 'failsafe', version: '1.2', prettyErrors: false })
    const contents = keepText(toData(typed), toData(written), alternatives(schema))
    return { contents, lineOf: (path) => lineOfField(typed, lines, path) }
  } catch (error) {
    if (error instanceof ProofwalkError) throw error
    if (error instanceof ReferenceError)
      throw new ProofwalkErrors([fault(filesSays['yaml-aliases'](), { file })])
    if (error instanceof RangeError) throw new ProofwalkErrors([fault(filesSays['yaml-depth'](), { file })])
    throw error
  }
}

/** Every key that stands twice, but of faults of the syntax the first: the rest follow from it more often than not. */
function worthTelling(errors: readonly YAMLError[]): readonly YAMLError[] {
  const first = errors.find(({ code }) => code !== 'DUPLICATE_KEY')
  return errors.filter((error) => error === first || error.code === 'DUPLICATE_KEY')
}

/** Groups come as Maps, which keep the order of the file whatever the keys look like. */
function toData(document: Document.Parsed): unknown {
  return document.toJS({ maxAliasCount: MOST_ALIASES, mapAsMap: true })
}

function syntaxFault(error: YAMLError, text: string, file: string, lines: LineCounter): ProofwalkError {
  const { line, col } = lines.linePos(error.pos[0])
  if (error.code === 'DUPLICATE_KEY') {
    const key = /^[^\s:]+/.exec(text.slice(error.pos[0]))?.[0] ?? 'a key'
    return fault(filesSays['duplicate-key'](), { file, field: `${key} (line ${line})` })
  }
  if (error.code === 'RESOURCE_EXHAUSTION') return fault(filesSays['yaml-depth'](), { file })
  const field = `line ${line}, column ${col}`
  return fault(filesSays['yaml-syntax'](oneLine(error.message)), { file, field })
}

/** Takes, wherever the schema takes text but not the value YAML made of it, the text as written; keys are text. */
function keepText(typed: unknown, written: unknown, nodes: readonly JsonSchemaNode[]): unknown {
  if (Array.isArray(typed) && Array.isArray(written)) {
    return typed.map((value, index) => keepText(value, written[index], childNodes(nodes, index)))
  }
  if (typed instanceof Map && written instanceof Map) {
    const values = [...typed.values()]
    const entries = [...written].map(([key, value], index) => {
      const name = typeof key === 'string' ? key : JSON.stringify(key)
      return [name, keepText(values[index], value, childNodes(nodes, name))]
    })
    return Object.fromEntries(entries)
  }
  const empty = typed === null && written === ''
  if (typeof written !== 'string' || empty || takes(nodes, kindOf(typed))) return typed
  return takes(nodes, 'string') ? written : typed
}

function kindOf(value: unknown): string {
  return value === null ? 'null' : typeof value
}

function takes(nodes: readonly JsonSchemaNode[], kind: string): boolean {
  return nodes.some(({ type }) => type === kind || (kind === 'number' && type === 'integer'))
}

function lineOfField(
  document: Document.Parsed,
  lines: LineCounter,
  path: readonly PropertyKey[],
): number | null {
  for (let length = path.length; length > 0; length--) {
    const node: unknown = document.getIn(path.slice(0, length), true)
    if (isNode(node) && node.range) return lines.linePos(node.range[0]).line
  }
  return null
}
