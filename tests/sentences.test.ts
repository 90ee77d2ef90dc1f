import { readdirSync } from 'node:fs'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { join } from 'node:path'
import { Linter } from 'eslint'
import { parser } from 'typescript-eslint'
import { describe, expect, expectTypeOf, it, test } from 'vitest'
import { saidRules } from '../.ci/saidRules.js'
import { catalogue, fault, problem, SENTENCE_TOPICS, type AboutSentence } from '../src/sentences.js'

const SOURCE = fileURLToPath(new URL('../src', import.meta.url))

describe('the catalogues of the rooms', async () => {
  const files = readdirSync(SOURCE, { recursive: true, encoding: 'utf8' }).filter((file) =>
    /[\\/]sentences\.ts$/.test(file),
  )
  const told: [string, AboutSentence][] = []
  for (const file of files) {
    const exported = (await import(pathToFileURL(join(SOURCE, file)).href)) as Record<string, unknown>
    const says = Object.entries(exported).filter(([name]) => name.endsWith('Says'))
    for (const [, sentences] of says)
      for (const [name, { about }] of Object.entries(sentences as Record<string, { about: AboutSentence }>))
        told.push([`${file}: ${name}`, about])
  }

  it('are found, and hold sentences', () => {
    expect(files.length).toBeGreaterThanOrEqual(9)
    expect(told.length).toBeGreaterThan(200)
  })

  test.each(told)('%s has a code, a topic and words without a full stop', (_name, about) => {
    expect(about.toldAs).toMatch(/^[a-z0-9]+(-[a-z0-9]+)*$/)
    expect(Object.keys(SENTENCE_TOPICS)).toContain(about.topic)
    for (const words of [about.means, about.mend]) expect(words ?? 'x').toMatch(/[^.\s;:,]$/)
  })
})

describe('a catalogue', () => {
  const says = catalogue({
    'too-far': {
      topic: 'marks',
      means: 'it is far',
      say: (farM: number) => `${farM} m is too far`,
      mend: (_farM: number, nearM: number) => `go to ${nearM} m`,
    },
    'no-mark': { code: 'none', topic: 'marks', say: 'there is no mark', mend: 'tape one' },
  })

  it('says a sentence of its facts, those of the mend behind them', () => {
    expectTypeOf(says['too-far']).parameters.toEqualTypeOf<[farM: number, nearM: number]>()
    const message = '90 m is too far'
    expect(says['too-far'](90, 40)).toEqual({ code: 'too-far', message, mend: 'go to 40 m' })
    expect(problem(says['too-far'](90, 40))).toEqual({ code: 'too-far', message: `${message}; go to 40 m` })
    expect(says['no-mark'].about).toEqual({
      topic: 'marks',
      toldAs: 'none',
      means: 'there is no mark',
      mend: 'tape one',
    })
  })

  it('makes a fault whose place may give another mend', () => {
    expect(fault(says['no-mark'](), { file: 'walk.yaml' }).place).toEqual({
      file: 'walk.yaml',
      mend: 'tape one',
    })
    expect(fault(says['no-mark'](), { mend: 'go' }, 3)).toMatchObject({
      code: 'none',
      exitStatus: 3,
      place: { mend: 'go' },
    })
  })
})

/** What the linter's rule says of a text. */
function saidIn(text: string): number {
  const config = { languageOptions: { parser }, plugins: { sentences: saidRules }, files: ['**/*.ts'] }
  const rules = { 'sentences/said': 'error' as const }
  return new Linter().verify(text, { ...config, rules } as Linter.Config, { filename: 'a.ts' }).length
}

describe('the rule that a sentence stands in a catalogue', () => {
  test.each([
    "throw new ProofwalkError('a-code', 'it is wrong')",
    "throw new ProofwalkError('a-code', `${name} is wrong`, { file })",
    "failure('a-code', ok ? why : 'it is wrong')",
    "failure('a-code', 'wrong')",
    "fault(path, 'a-code', 'is ' + text)",
    "fieldFault(of, path, 'a-code', words ?? 'missing')",
    "f({ code, message: 'it is wrong' })",
    "f({ 'why': `${name} wrong` })",
    "f({ mend: 'mend it' as string })",
    "const message = 'it is wrong'",
  ])('is broken by %s', (text) => {
    expect(saidIn(text)).toBe(1)
  })

  test.each([
    "failure(roomSays['a-code'](name))",
    "fault({ code: 'a-code', message }, { file, field: `line ${line}` })",
    "new ProofwalkError('a-code', message, place)",
    'f({ code, message: `${message}; ${mend}` })',
    "f({ why: '' })",
    "f({ label: 'it is a label' })",
    "type Told = { message: 'it is a type' }",
  ])('is kept by %s', (text) => {
    expect(saidIn(text)).toBe(0)
  })
})
