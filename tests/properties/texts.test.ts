import fc from 'fast-check'
import { expect, test } from 'vitest'
import { parse } from 'yaml'
import { ProofwalkError } from '../../src/errors.js'
import { csvText, parseCsv } from '../../src/files/csv.js'
import { jsonSchemaOf } from '../../src/files/jsonSchemaNode.js'
import { jsonSlip } from '../../src/files/jsonSlip.js'
import { escaped, escapedLines, oneLine } from '../../src/files/oneLine.js'
import { parseYaml } from '../../src/files/parseYaml.js'
import { plainYaml } from '../../src/files/plainYaml.js'
import { parsePicks } from '../../src/walk/read/readPicks.js'
import { parseWalk } from '../../src/walk/read/parseWalk.js'
import { walkSchema } from '../../src/walk/schemas/walkSchema.js'
import { distanceInName } from '../../src/walk/stills/stillName.js'

fc.configureGlobal({ seed: 20260314, numRuns: 400 })

const anyText = fc.string({ unit: 'binary', maxLength: 60 })
const yamlish = fc
  .array(
    fc.oneof(
      fc.constantFrom(
        'a',
        'b: ',
        '- ',
        '\n',
        '  ',
        '{',
        '}',
        '[',
        ']',
        ', ',
        '&x ',
        '*x',
        '# c',
        '"',
        "'",
        '|\n',
        '!!int ',
        '__proto__: ',
        '.inf',
        '<<: ',
      ),
      anyText,
    ),
    { maxLength: 14 },
  )
  .map((parts) => parts.join(''))

/** Whether what is thrown, where anything is, is a fault that is told to the user. */
async function isToldOrRead(read: () => unknown): Promise<boolean> {
  try {
    await read()
    return true
  } catch (error) {
    return error instanceof ProofwalkError && error.exitStatus === 2
  }
}

test('any YAML is read or told as a fault', async () => {
  const schema = jsonSchemaOf(walkSchema)
  await fc.assert(
    fc.asyncProperty(yamlish, (text) => isToldOrRead(() => parseYaml(text, 'walk.yaml', schema))),
  )
})

test('any walk.yaml is read or told as a fault', async () => {
  await fc.assert(
    fc.asyncProperty(yamlish, (text) =>
      isToldOrRead(() =>
        parseWalk(`site: a\nlights: [day]\n${text}`, { file: 'walk.yaml', dir: '.', sha256: '' }),
      ),
    ),
  )
})

test('any picks.json is read or told as a fault', async () => {
  const picks = fc.oneof(
    anyText,
    fc.json(),
    fc.json().map((json) => `{"format":"proofwalk-picks/1","stills":${json}}`),
  )
  await fc.assert(fc.asyncProperty(picks, (text) => isToldOrRead(() => parsePicks(text, 'picks.json'))))
})

test('a text slips exactly where it is not JSON', () => {
  const isJson = (text: string): boolean => {
    try {
      JSON.parse(text)
      return true
    } catch {
      return false
    }
  }
  const cut = fc
    .tuple(fc.json(), fc.nat(), fc.nat(3))
    .map(([json, at, length]) => json.slice(0, at % json.length) + json.slice((at % json.length) + length))
  fc.assert(fc.property(fc.oneof(fc.json(), cut), (text) => (jsonSlip(text) === null) === isJson(text)))
})

test('comments are cut out of YAML once and for all, and nothing else', () => {
  const sound = fc.dictionary(
    fc.stringMatching(/^[a-z]{1,8}$/),
    fc.oneof(fc.integer(), fc.stringMatching(/^[a-z #"':]*$/), fc.boolean()),
  )
  fc.assert(
    fc.property(sound, fc.array(fc.stringMatching(/^[a-z: "]*$/)), (data, comments) => {
      const lines = Object.entries(data).map(
        ([key, value], index) => `${key}: ${JSON.stringify(value)} # ${comments[index] ?? ''}\n`,
      )
      const plain = plainYaml(lines.join(''))
      expect(plainYaml(plain)).toBe(plain)
      expect(parse(plain) ?? {}).toEqual(data)
    }),
  )
})

test('a table is read as it was written', () => {
  const field = anyText.map((text) => text.trim()).filter((text) => !text.startsWith('\uFEFF'))
  fc.assert(
    fc.property(
      fc.array(fc.array(field, { minLength: 2, maxLength: 4 }), { minLength: 1, maxLength: 5 }),
      (rows) => {
        // The separator is told by the first line, and rows of nothing are left out.
        const table = [['head', 'of', 'it'], ...rows.filter((row) => row.some((one) => one !== ''))]
        const read = parseCsv(csvText(table)).rows.map(({ fields }) => fields)
        expect(read).toEqual(table)
      },
    ),
  )
})

test('any text is shown without a sign that steers, and JSON stays what it was', () => {
  const steers = /[\u0000-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/u
  const hostile = fc
    .array(
      fc.oneof(
        anyText,
        fc.constantFrom('\u001b[2J', '\u202e', '\u2066', '\r', '\n', '\u009b', '\u0085', '\u200f'),
      ),
    )
    .map((parts) => parts.join(''))
  fc.assert(
    fc.property(hostile, (text) => {
      expect(escaped(text)).not.toMatch(steers)
      expect(oneLine(text)).not.toMatch(steers)
      expect(JSON.parse(escapedLines(JSON.stringify({ [text]: text }, null, 2)))).toEqual(
        JSON.parse(JSON.stringify({ [text]: text })),
      )
    }),
  )
})

test('a name tells a distance or a reason, never anything else', () => {
  const name = fc.array(
    fc.oneof(
      fc.constantFrom(
        '12',
        '.5',
        ',5',
        'm',
        ' ft',
        "5'",
        '6"',
        '(',
        ')',
        '-',
        'in',
        '.jpg',
        '1e999',
        'Infinity',
      ),
      anyText,
    ),
    { maxLength: 6 },
  )
  fc.assert(
    fc.property(name, (parts) => {
      const told = distanceInName(parts.join(''))
      return told.ok ? Number.isFinite(told.value) : told.message !== ''
    }),
  )
})
