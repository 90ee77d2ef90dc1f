import { expect, test } from 'vitest'
import { referencePresets } from '../../src/measure/reference/referencePresets.js'
import { runCommand } from './recordingTerminal.js'

test('list references shows every preset with size, tolerance and source, and the next command', async () => {
  const { out, err, status } = await runCommand('list', 'references')
  expect([err, status]).toEqual(['', 0])
  for (const { id, source } of referencePresets) {
    expect(out).toContain(`  ${id} `)
    expect(out).toContain(source)
  }
  expect(out).toMatch(/plate-eu +520 x 110 +20\.47 x 4\.33 +\+\/-1 /)
  expect(out.trimEnd().split('\n').at(-1)).toBe('Next: proofwalk new my-camera --carry plate-eu')
})

test('list gradings shows both editions with their exact limits and the grade a task asks for', async () => {
  const { out } = await runCommand('list', 'gradings')
  expect(out).toMatch(/observe +Observe +62\.5 +19\.05 +16 +20\.0 +0\.79\n/)
  expect(out).toMatch(/scrutinise +Scrutinise +1500 +457\.2 +0\.667 +0\.8 +0\.03\n/)
  expect(out).toContain('to read a plate: identify')
  expect(out).toContain('to read a plate: characterise')
  expect(out.trimEnd().split('\n').at(-1)).toMatch(/^Next: /)
})

test('--json prints one document and nothing else', async () => {
  const references = JSON.parse((await runCommand('list', 'references', '--json')).out) as {
    references: unknown[]
  }
  expect(references.references).toHaveLength(referencePresets.length)
  const gradings = JSON.parse((await runCommand('list', 'gradings', '--json')).out) as { gradings: unknown[] }
  expect(gradings.gradings).toHaveLength(2)
})

// Another release may have written results with more keys than this one knows; what people write is held to the known ones.
test.each([
  ['walk', false],
  ['results', {}],
  ['picks', false],
  ['grading', false],
])('schema %s prints a JSON Schema of an object', async (file, additionalProperties) => {
  const { out, status } = await runCommand('schema', file)
  expect(status).toBe(0)
  expect(JSON.parse(out)).toMatchObject({
    $schema: 'https://json-schema.org/draft/2020-12/schema',
    type: 'object',
    additionalProperties,
  })
})

test('an unknown list or schema ends with 2 and names the known ones', async () => {
  const { err, status } = await runCommand('schema', 'wlk')
  expect(status).toBe(2)
  expect(err).toContain('walk, results, picks, grading')
  expect((await runCommand('list', 'reference')).status).toBe(2)
})

test.each([['new'], ['list'], ['list', 'references'], ['list', 'gradings'], ['schema']])(
  'the help of %s shows an example',
  async (...words) => {
    const { out, status } = await runCommand(...words, '--help')
    expect(status).toBe(0)
    expect(out).toMatch(/Examples?:\n {2}proofwalk /)
  },
)

test('list references shows the papers of the chart with their frame and module', async () => {
  const { out } = await runCommand('list', 'references')
  // 14 x 10 modules in an A2 of 594 x 420 mm: a module of 42 mm by its height, a frame of 11.6 x 7.6 of them
  expect(out).toMatch(
    /A2 +594 x 420 +487\.2 x 319\.2 +19\.18 x 12\.57 +42\.00 +35\.7 px\/m \(10\.88 px\/ft\)/,
  )
  const { charts } = JSON.parse((await runCommand('list', 'references', '--json')).out) as {
    charts: { paper: string; frameMm: number[] }[]
  }
  expect(charts.map(({ paper }) => paper)).toEqual(['A5', 'A4', 'A3', 'A2', 'A1', 'A0', 'Letter', 'Tabloid'])
})
