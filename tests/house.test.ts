import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { ESLint, Linter } from 'eslint'
import { parser } from 'typescript-eslint'
import { afterAll, expect, test } from 'vitest'
import { rulesOf } from '../.ci/rulesOf.js'

// The rules that hold the house are ours, so nothing outside says whether they are right: each is shown an invented house with one thing wrong.

const plan = {
  rooms: ['cellar', { name: 'hall', words: ['words'], rooms: ['low', 'high'], entrances: ['door'] }, 'attic'],
  words: ['errors'],
  entrances: ['index'],
}
const sound = {
  'errors.ts': '',
  'cellar/stone.ts': "import { fault } from '../errors.js'",
  'hall/words.ts': "import { stone } from '../cellar/stone.js'",
  'hall/low/chair.ts': "import type { Word } from '../words.js'",
  'hall/high/table.ts': "import { chair } from '../low/chair.js'",
  'hall/door.ts': "export { table } from './high/table.js'",
  'attic/trunk.ts': "import { door } from '../hall/door.js'\nconst late = import('../cellar/stone.js')",
  'index.ts': "export * from './attic/trunk.js'",
}

const home = mkdtempSync(join(tmpdir(), 'proofwalk-house-'))
afterAll(() => rmSync(home, { recursive: true, force: true }))
let houses = 0

/** What the rules say of a house of these files, laid over the sound one; each fault as `file: message`. */
function faultsOf(files: Readonly<Record<string, string>>): string[] {
  const source = join(home, `${(houses += 1)}`, 'src')
  const all: Record<string, string> = { ...sound, ...files }
  for (const [file, text] of Object.entries(all)) {
    mkdirSync(join(source, dirname(file)), { recursive: true })
    writeFileSync(join(source, file), text)
  }
  const house = rulesOf(source, plan)
  const linter = new Linter({ cwd: source })
  const rules = Object.fromEntries(
    Object.keys(house.rules).map((rule) => [`house/${rule}`, 'error' as const]),
  )
  const config = { files: ['**/*.ts'], languageOptions: { parser }, plugins: { house }, rules }
  return Object.entries(all).flatMap(([file, text]) =>
    linter
      .verify(text, config as Linter.Config, { filename: join(source, file) })
      .map(({ message }) => `${file}: ${message}`),
  )
}

test('a sound house passes', () => {
  expect(faultsOf({})).toEqual([])
})

test.each([
  ['an import', "import { trunk } from '../attic/trunk.js'"],
  ['a type', "import type { Trunk } from '../attic/trunk.js'"],
  ['what is handed on', "export * from '../attic/trunk.js'"],
  ['an import made late', "const late = import('../attic/trunk.js')"],
])('%s back up between rooms is refused', (_, text) => {
  expect(faultsOf({ 'cellar/brick.ts': text })).toEqual([
    'cellar/brick.ts: cellar stands above attic in the house and must not import from it',
  ])
})

test('an import back up between rooms within a room is refused', () => {
  expect(faultsOf({ 'hall/low/stool.ts': "import { table } from '../high/table.js'" })).toEqual([
    'hall/low/stool.ts: low stands above high in the house and must not import from it',
  ])
})

test("a room's words importing one of its rooms are refused, and so is a room within importing an entrance", () => {
  expect(
    faultsOf({ 'hall/words.ts': "import { lamp } from './high/lamp.js'", 'hall/high/lamp.ts': '' }),
  ).toEqual(['hall/words.ts: words stands above high in the house and must not import from it'])
  expect(faultsOf({ 'hall/high/lamp.ts': "import { door } from '../door.js'" })).toEqual([
    'hall/high/lamp.ts: high stands above door in the house and must not import from it',
  ])
})

test('a circle is refused in each of its files, of types too', () => {
  const circle = {
    'cellar/a.ts': "import type { B } from './b.js'",
    'cellar/b.ts': "import {\n  type C,\n} from './c.js'",
    'cellar/c.ts': "export type { A } from './a.js'",
  }
  expect(faultsOf(circle)).toEqual([
    'cellar/a.ts: files that import each other in a circle: cellar/a.ts -> cellar/b.ts -> cellar/c.ts -> cellar/a.ts',
    'cellar/b.ts: files that import each other in a circle: cellar/b.ts -> cellar/c.ts -> cellar/a.ts -> cellar/b.ts',
    'cellar/c.ts: files that import each other in a circle: cellar/c.ts -> cellar/a.ts -> cellar/b.ts -> cellar/c.ts',
  ])
})

test("a room, a room within and a root's file that are not on the plan are refused", () => {
  expect(
    faultsOf({ 'shed/rake.ts': '', 'hall/middle/lamp.ts': '', 'hall/mat.ts': '', 'helpers.ts': '' }),
  ).toEqual([
    "shed/rake.ts: shed is not on the house's plan (.ci/houseRules.js)",
    "hall/middle/lamp.ts: middle is not on the house's plan (.ci/houseRules.js)",
    "hall/mat.ts: mat is not on the house's plan (.ci/houseRules.js)",
    "helpers.ts: helpers is not on the house's plan (.ci/houseRules.js)",
  ])
})

test('a folder of 21 files is refused, one of 20 is not', () => {
  const boxes = (count: number) =>
    Object.fromEntries(Array.from({ length: count }, (_, at) => [`attic/box${at}.ts`, '']))
  expect(faultsOf(boxes(19))).toEqual([])
  const faults = faultsOf(boxes(20))
  expect(faults).toHaveLength(21)
  expect(new Set(faults.map((fault) => fault.replace(/^\S+ /, '')))).toEqual(
    new Set(['attic holds 21 files, more than 20: give it rooms']),
  )
})

test("every file of the product's own source is linted by each of these rules, as errors", async () => {
  const eslint = new ESLint()
  const files = readdirSync('src', { recursive: true, encoding: 'utf8' }).filter((file) =>
    /\.tsx?$/.test(file),
  )
  expect(files.length).toBeGreaterThan(300)
  for (const file of files) {
    const { plugins, rules } = (await eslint.calculateConfigForFile(join('src', file))) as Linter.Config
    const held = Object.entries(rules!).filter(([rule]) => rule.startsWith('house/'))
    expect(held, file).toEqual(Object.keys(plugins!.house!.rules!).map((rule) => [`house/${rule}`, [2]]))
  }
})
