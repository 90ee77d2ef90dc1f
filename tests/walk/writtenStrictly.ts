import { z } from 'zod'
import { resultsSchema } from '../../src/walk/schemas/resultsSchema.js'

type FromJsonSchema = Parameters<typeof z.fromJSONSchema>[0]

/** What is wrong with results as they are written: a key their schema does not know, or one of its own that is missing; undefined where nothing is. */
export function strictFaults(results: unknown): unknown {
  const schema = strictly(z.toJSONSchema(resultsSchema, { io: 'output' })) as FromJsonSchema
  return z.fromJSONSchema(schema).safeParse(results).error?.issues
}

function strictly(node: unknown): unknown {
  if (Array.isArray(node)) return node.map(strictly)
  if (typeof node !== 'object' || node === null) return node
  // A default would fill in what is missing.
  const entries = Object.entries(node).filter(([key]) => key !== 'default')
  const closed = Object.fromEntries(entries.map(([key, value]) => [key, strictly(value)]))
  return 'properties' in node ? { ...closed, additionalProperties: false } : closed
}
