import * as z from 'zod'

/** The part of JSON Schema that is asked here for known keys, kinds and examples. */
export interface JsonSchemaNode {
  readonly title?: string
  readonly description?: string
  readonly type?: string
  readonly properties?: Readonly<Record<string, JsonSchemaNode>>
  readonly additionalProperties?: JsonSchemaNode | boolean
  readonly items?: JsonSchemaNode
  readonly prefixItems?: readonly JsonSchemaNode[]
  readonly anyOf?: readonly JsonSchemaNode[]
  readonly enum?: readonly unknown[]
  readonly examples?: readonly unknown[]
}

/** What was made of a schema before: results are held against theirs again and again. */
const made = new WeakMap<z.ZodType, JsonSchemaNode>()

/** The JSON Schema of what people write for a zod schema. Examples here are of the input, so those zod drops stay. */
export function jsonSchemaOf(schema: z.ZodType): JsonSchemaNode {
  const known = made.get(schema)
  if (known !== undefined) return known
  const written = z.toJSONSchema(schema, {
    io: 'input',
    override: ({ zodSchema, jsonSchema }) => {
      const examples = z.globalRegistry.get(zodSchema)?.examples
      if (Array.isArray(examples)) jsonSchema.examples = examples
    },
  })
  made.set(schema, written as JsonSchemaNode)
  return written as JsonSchemaNode
}

/** The node with its alternatives beside it, so that callers need not know of `anyOf`. */
export function alternatives(node: JsonSchemaNode): readonly JsonSchemaNode[] {
  return node.anyOf === undefined ? [node] : [node, ...node.anyOf.flatMap(alternatives)]
}

/** The nodes one step below: by key of an object or by index of an array. */
export function childNodes(
  nodes: readonly JsonSchemaNode[],
  step: string | number,
): readonly JsonSchemaNode[] {
  return nodes.flatMap((node) => {
    const child = typeof step === 'number' ? (node.prefixItems?.[step] ?? node.items) : childByKey(node, step)
    return typeof child === 'object' ? alternatives(child) : []
  })
}

function childByKey(node: JsonSchemaNode, key: string): JsonSchemaNode | boolean | undefined {
  if (node.properties !== undefined && Object.hasOwn(node.properties, key)) return node.properties[key]
  return node.additionalProperties
}

/** The nodes at a path from the root; empty where the schema knows nothing there. */
export function nodesAt(root: JsonSchemaNode, path: readonly PropertyKey[]): readonly JsonSchemaNode[] {
  return path.reduce<readonly JsonSchemaNode[]>(
    (nodes, step) => childNodes(nodes, typeof step === 'number' ? step : String(step)),
    alternatives(root),
  )
}

/** The keys an object may have at a path. */
export function knownKeys(root: JsonSchemaNode, path: readonly PropertyKey[]): readonly string[] {
  return [...new Set(nodesAt(root, path).flatMap((node) => Object.keys(node.properties ?? {})))]
}
