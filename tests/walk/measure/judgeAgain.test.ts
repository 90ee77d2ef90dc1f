import { readdirSync } from 'node:fs'
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { alternatives, type JsonSchemaNode, jsonSchemaOf } from '../../../src/files/jsonSchemaNode.js'
import { differingFields } from '../../../src/walk/measure/differingFields.js'
import { resultsSchema, type WalkResults } from '../../../src/walk/schemas/resultsSchema.js'
import { verifyFiles } from '../../../src/walk/site/verifyFiles.js'

const FROZEN = fileURLToPath(new URL('../../../fixtures/walks', import.meta.url))
const walks = readdirSync(FROZEN, { withFileTypes: true }).flatMap((entry) =>
  entry.isDirectory() ? [entry.name] : [],
)

/** As a reader finds them in their file. */
const fromFile = (results: WalkResults): WalkResults => JSON.parse(JSON.stringify(results)) as WalkResults

/** A place in the results and what is written there by hand. */
interface Edit {
  readonly path: readonly (string | number)[]
  readonly value: unknown
}

/** What may stand where a schema says what may. */
function sampleOf(node: JsonSchemaNode & { readonly const?: unknown; readonly pattern?: string }): unknown {
  const [alternative] = node.anyOf ?? []
  if (alternative !== undefined) return sampleOf(alternative)
  if (node.enum !== undefined) return node.enum[0]
  if (node.const !== undefined) return node.const
  if (node.prefixItems !== undefined) return node.prefixItems.map(sampleOf)
  switch (node.type) {
    case 'object':
      return Object.fromEntries(Object.entries(node.properties ?? {}).map(([key, of]) => [key, sampleOf(of)]))
    case 'array':
      return [sampleOf(node.items ?? {})]
    case 'string':
      return node.pattern === undefined ? 'by hand' : 'a'.repeat(64)
    case 'boolean':
      return true
    default:
      return 1.5
  }
}

/** Every field the schema knows, changed by hand one at a time: whatever is added to the schema is tried here without a word. Of a list, its first. */
function* editsOf(
  value: unknown,
  nodes: readonly JsonSchemaNode[],
  path: Edit['path'] = [],
): Generator<Edit> {
  const all = nodes.flatMap(alternatives)
  if (value === null || value === undefined) {
    const other = all.find((node) => node.type !== 'null' && node.anyOf === undefined)
    if (other !== undefined) yield { path, value: sampleOf(other) }
    return
  }
  if (Array.isArray(value)) {
    const first = all.flatMap((node) => node.prefixItems?.[0] ?? node.items ?? [])
    yield { path, value: [...(value as unknown[]), value[0] ?? sampleOf(first[0] ?? {})] }
    if (value.length === 0) return
    yield { path, value: value.slice(1) }
    yield* editsOf(value[0], first, [...path, 0])
    return
  }
  if (typeof value === 'object') {
    const known = new Map(all.flatMap((node) => Object.entries(node.properties ?? {})))
    for (const key of new Set([...known.keys(), ...Object.keys(value)])) {
      const more = all.flatMap(({ additionalProperties: of }) => (typeof of === 'object' ? [of] : []))
      const child = known.get(key)
      yield* editsOf((value as Record<string, unknown>)[key], child ? [child] : more, [...path, key])
    }
    if (path.length > 0 && all.some(({ type }) => type === 'null')) yield { path, value: null }
    return
  }
  const choices = all.flatMap((node) => node.enum ?? []).filter((one) => one !== value)
  if (choices.length > 0) yield* choices.map((choice) => ({ path, value: choice }))
  else if (typeof value === 'number') yield { path, value: value * 1.02 + 0.01 }
  else if (typeof value === 'boolean') yield { path, value: !value }
  else
    yield { path, value: /^[0-9a-f]{64}$/.test(String(value)) ? 'a'.repeat(64) : `${String(value)} by hand` }
  if (all.some(({ type }) => type === 'null')) yield { path, value: null }
}

function edited(results: WalkResults, { path, value }: Edit): WalkResults {
  const copy = fromFile(results)
  let place = copy as unknown as Record<string | number, unknown>
  for (const step of path.slice(0, -1)) place = place[step] as typeof place
  place[path.at(-1)!] = value
  return copy
}

const named = ({ path }: Edit): string =>
  path
    .map((step) => (typeof step === 'number' ? '[]' : `.${step}`))
    .join('')
    .slice(1)

let home = ''
beforeAll(async () => void (home = await mkdtemp(join(tmpdir(), 'proofwalk-edited-'))))
afterAll(() => rm(home, { recursive: true, force: true }))

/** What only the pixels show: `verify --deep` alone can find it changed, where nothing else follows from it. */
const BY_PIXELS = /^stills\[\]\.(sharpness|tone|problems|blocks)(\.|\[|$)/
/** Another method's results are held to their hashes alone, and said to be. */
const OF_ANOTHER_METHOD = 'method'

test('results.json edited by hand in any field is found by verify, or by its --deep alone where only pixels show it', async () => {
  const tried = new Set<string>()
  const before: string[] = []
  for (const name of walks) {
    const dir = join(home, name)
    await cp(join(FROZEN, name), dir, { recursive: true })
    const written = JSON.parse(await readFile(join(dir, 'results.json'), 'utf8')) as WalkResults
    expect((await verifyFiles(dir)).checks.filter(({ matches }) => matches !== true)).toEqual([])
    for (const edit of editsOf(written, [jsonSchemaOf(resultsSchema)])) {
      // What an earlier walk showed of a field, this one would show again.
      if (before.includes(named(edit))) continue
      tried.add(named(edit))
      const results = edited(written, edit)
      await writeFile(join(dir, 'results.json'), JSON.stringify(results))
      const { checks } = await verifyFiles(dir)
      if (checks.some(({ matches }) => matches === false)) continue
      if (named(edit) === OF_ANOTHER_METHOD) {
        expect(checks.at(-1)).toMatchObject({ matches: null, message: expect.stringMatching(/^not checked/) })
        continue
      }
      expect(named(edit)).toMatch(BY_PIXELS)
      expect(differingFields(results, written), named(edit)).not.toEqual([])
    }
    before.push(...tried)
  }
  expect([...tried]).toEqual(
    expect.arrayContaining([
      'promises[].verdict',
      'stills[].budget.found.corners[][]',
      'projection.p',
      'scene',
      'stills[].sameAs',
    ]),
  )
}, 120_000)
