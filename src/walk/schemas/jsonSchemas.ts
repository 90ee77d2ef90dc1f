import { gradingSchema } from './gradingSchema.js'
import { jsonSchemaOf, type JsonSchemaNode } from '../../files/jsonSchemaNode.js'
import { picksSchema } from './picksSchema.js'
import { resultsSchema } from './resultsSchema.js'
import { walkSchema } from './walkSchema.js'

const schemas = { walk: walkSchema, results: resultsSchema, picks: picksSchema, grading: gradingSchema }

const titles = {
  walk: 'walk.yaml: one camera, one position, one set of stills',
  results: 'results.json: what was measured; lengths in metres, densities px/m, frequencies cycles/px',
  picks: 'picks.json: the points of the references, px',
  grading: 'a grading file: a published list of grades, limits in px/m',
}

/** The JSON Schema of a file as people and programs write it, made from the one schema it is read with. */
export function jsonSchemaOfFile(file: keyof typeof schemas): JsonSchemaNode {
  return { title: titles[file], ...jsonSchemaOf(schemas[file]) }
}
