import { parse } from 'yaml'
import { describe, expect, test } from 'vitest'
import { z } from 'zod'
import { jsonSchemaOfFile } from '../../../src/walk/schemas/jsonSchemas.js'
import { FULL_WALK } from '../walkText.js'

// A reader of JSON Schema that knows nothing of the schemas these were made from.
type FromJsonSchema = Parameters<typeof z.fromJSONSchema>[0]
const reader = (file: 'walk' | 'picks' | 'grading') =>
  z.fromJSONSchema(jsonSchemaOfFile(file) as FromJsonSchema)
const walk = () => parse(FULL_WALK.replace('serial: 007', "serial: '007'").replace('12e3', 'night')) as object

describe('the JSON Schema describes what people write', () => {
  test('the full walk passes it', () => {
    expect(reader('walk').safeParse(walk()).error?.issues).toBeUndefined()
  })

  test.each([
    ['an unknown key', { sight: 'x' }],
    ['a bare number for a mark', { marks: [4] }],
    [
      'a reference with a preset and a width',
      { references: { plate: { preset: 'plate-eu', width: '1 m' } } },
    ],
    ['no lights', { lights: [] }],
    ['an unknown way to judge', { judge: 'eye' }],
    ['an image without its height', { camera: { name: 'c', image: { width: 3 } } }],
  ])('%s does not', (_what, change) => {
    expect(reader('walk').safeParse({ ...walk(), ...change }).success).toBe(false)
  })

  test('picks and a grading pass theirs, and faulty ones do not', () => {
    const corners = [
      [1, 2],
      [3, 2],
      [3, 4],
      [1, 4],
    ]
    const pick = { sha256: 'ab'.repeat(32), reference: 'plate', corners, sigma: 0.5, method: 'hand' }
    const picks = (one: object) => ({ format: 'proofwalk-picks/1', stills: { 'stills/day/4m.jpg': one } })
    expect(reader('picks').safeParse(picks(pick)).error?.issues).toBeUndefined()
    const { sha256 } = pick
    expect(reader('picks').safeParse(picks({ sha256, corners })).error?.issues).toBeUndefined()
    expect(reader('picks').safeParse(picks({ ...pick, corners: corners.slice(1) })).success).toBe(false)
    expect(reader('picks').safeParse(picks({ ...pick, sigma: -1 })).success).toBe(false)
    const grading = {
      id: 'x',
      name: 'X',
      source: 'invented',
      grades: [{ id: 'see', name: 'See', limit: 20 }],
    }
    expect(reader('grading').safeParse(grading).error?.issues).toBeUndefined()
    expect(reader('grading').safeParse({ ...grading, grades: [] }).success).toBe(false)
  })
})

test('every example in the schema of the walk is sound where it stands', () => {
  interface Node {
    readonly examples?: readonly unknown[]
    readonly properties?: Readonly<Record<string, Node>>
  }
  const { properties } = jsonSchemaOfFile('walk') as Node
  let tried = 0
  for (const [key, node] of Object.entries(properties ?? {})) {
    for (const example of node.examples ?? []) {
      expect(reader('walk').safeParse({ ...walk(), [key]: example }).error?.issues, key).toBeUndefined()
      tried++
    }
  }
  expect(tried).toBeGreaterThan(12)
})
