import { execFileSync } from 'node:child_process'
import { mkdir, rm, symlink } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { runCommand } from '../cli/recordingTerminal.js'
import { folderState } from './folderState.js'
import { put, smallWalkYaml } from './smallWalk.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()

interface BadWalk {
  readonly about: string
  /** Spoils a sound walk. */
  readonly spoil: (dir: string) => Promise<unknown>
  /** What the one line must say after the file: the field, what is wrong, the mend. */
  readonly told: RegExp
  readonly file?: string
}

const yaml = (from: string | RegExp, to: string) => (dir: string) => {
  const text = smallWalkYaml().replace(from, to)
  expect(text).not.toBe(smallWalkYaml())
  return put(dir, 'walk.yaml', text)
}
const more = (text: string) => (dir: string) => put(dir, 'walk.yaml', smallWalkYaml(text))
const insteadOf = (file: string, make: (path: string) => unknown) => async (dir: string) => {
  await rm(join(dir, file), { force: true })
  await make(join(dir, file))
}
const pipe = (path: string) => execFileSync('mkfifo', [path])
const PICK = {
  sha256: '0'.repeat(64),
  reference: 'board',
  corners: [
    [1, 1],
    [9, 1],
    [9, 9],
    [1, 9],
  ],
  sigma: 0.5,
  method: 'hand',
}
const picks =
  (one: object, still = 'stills/day/4m.jpg') =>
  (dir: string) =>
    put(
      dir,
      'picks.json',
      JSON.stringify({ format: 'proofwalk-picks/1', stills: { [still]: { ...PICK, ...one } } }),
    )

/** Nine anchors, each ten times the one before: a thousand million words if it were let. */
const ALIAS_BOMB = `notes: &a0 [x]\n${Array.from(
  { length: 9 },
  (_, i) => `n${i}: &a${i + 1} [${Array(10).fill(`*a${i}`).join(', ')}]\n`,
).join('')}`

const CASES: readonly BadWalk[] = [
  {
    about: 'a misspelled key',
    spoil: yaml('marks:', 'makrs:'),
    told: /^makrs \(line 8\): .*did you mean marks\?$/,
  },
  { about: 'an unknown key', spoil: more('colour: red\n'), told: /^colour \(line 12\): is not a known key/ },
  {
    about: 'a bare number',
    spoil: yaml('[4 m, 6 m', '[4, 6 m'),
    told: /^marks\[0\] \(line 8\): .*unit.*4 m/,
  },
  {
    about: 'two units that disagree',
    spoil: yaml('[4 m', '[45 ft (13.9 m)'),
    told: /^marks\[0\] \(line 8\): .*45 ft.*13\.9 m.*/,
  },
  { about: 'a mark of no length', spoil: yaml('[4 m', '[0 m'), told: /^marks\[0\] \(line 8\): .*0 m/ },
  { about: 'a mark behind the camera', spoil: yaml('[4 m', '[-4 m'), told: /^marks\[0\] \(line 8\): / },
  {
    about: 'a mark that is not a length',
    spoil: yaml('[4 m', '[near'),
    told: /^marks\[0\] \(line 8\): .*near/,
  },
  {
    about: 'a promise of an unknown grade',
    spoil: yaml('grade: observe', 'grade: obsrve'),
    told: /^promises\[0\]\.grade \(line 11\): "obsrve" is not a grade of IEC 62676-4:2014.*did you mean observe\?$/,
  },
  {
    about: 'a promise in an unknown light',
    spoil: yaml('light: day', 'light: dya'),
    told: /^promises\[0\]\.light \(line 11\): "dya" is not one of the lights; did you mean day\?$/,
  },
  {
    about: 'a promise on a reference that is not defined',
    spoil: yaml('light: day }', 'light: day, reference: bord }'),
    told: /^promises\[0\]\.reference \(line 11\): "bord" is not under references; did you mean board\?$/,
  },
  {
    about: 'a still of a reference that is not defined',
    spoil: more('stills: [{ file: stills/a.jpg, mark: 4 m, light: day, reference: plaque }]\n'),
    told: /^stills\[0\]\.reference \(line 12\): "plaque" is not under references; /,
  },
  {
    about: 'a still outside the walk',
    spoil: more('stills: [{ file: ../other/4m.jpg, mark: 4 m, light: day }]\n'),
    told: /^stills\[0\]\.file \(line 12\): "\.\.\/other\/4m\.jpg" leaves the walk's folder/,
  },
  {
    about: 'a grading outside the walk',
    spoil: more('grading: ../mine.yaml\n'),
    told: /^grading \(line 12\): "\.\.\/mine\.yaml" leaves the walk's folder; copy/,
  },
  {
    about: 'a logo from the root of the disk',
    spoil: more('issuer: { logo: /etc/logo.png }\n'),
    told: /^issuer\.logo \(line 12\): "\/etc\/logo\.png" must start from the walk's folder/,
  },
  {
    about: 'an unknown grading',
    spoil: more('grading: iec-62676-4-2041\n'),
    told: /^grading \(line 12\): .*did you mean/,
  },
  {
    about: 'aliases made to explode',
    spoil: more(ALIAS_BOMB),
    told: /^repeats its anchors so often that it would explode; write the repeated parts out$/,
  },
  {
    about: 'groups nested ten thousand deep',
    spoil: more(`notes: ${'['.repeat(10_000)}${']'.repeat(10_000)}\n`),
    told: /nested too deep/,
  },
  {
    about: 'broken YAML',
    spoil: yaml('[4 m, 6 m', '[4 m, 6 m]]'),
    told: /^line 8, column \d+: is not valid YAML here/,
  },
  { about: 'an empty walk.yaml', spoil: (dir) => put(dir, 'walk.yaml', ' \n'), told: /^is empty/ },
  {
    about: 'a walk.yaml that is no text',
    spoil: (dir) => put(dir, 'walk.yaml', Uint8Array.of(0xff, 0xfe, 0x41)),
    told: /^is not UTF-8 text; save it as UTF-8$/,
  },
  {
    about: 'a walk.yaml that is a pipe',
    spoil: insteadOf('walk.yaml', pipe),
    told: /^is not an ordinary file; /,
  },
  {
    about: 'a walk.yaml that is a link out of the walk',
    spoil: insteadOf('walk.yaml', (path) => symlink('/etc/hostname', path)),
    told: /^is a link out of the walk's folder; copy/,
  },
  {
    about: 'a walk.yaml that is a folder',
    spoil: insteadOf('walk.yaml', (path) => mkdir(path)),
    told: /^is not an ordinary file; /,
  },
  {
    about: 'a picks.json that is not JSON',
    file: 'picks.json',
    spoil: (dir) => put(dir, 'picks.json', '{ "format": '),
    told: /^line 1, column 13: is not valid JSON: the file ends before .*; mind the commas, the brackets and the quotes$/,
  },
  {
    about: 'a picks.json that is a pipe',
    file: 'picks.json',
    spoil: insteadOf('picks.json', pipe),
    told: /^is not an ordinary file; /,
  },
  {
    about: 'a misspelled key in picks.json',
    file: 'picks.json',
    spoil: picks({ sigam: 1 }),
    told: /^stills\["stills\/day\/4m\.jpg"\]\.sigam: is not a known key; did you mean sigma\?$/,
  },
  {
    about: 'a pick of a still outside the walk',
    file: 'picks.json',
    spoil: picks({}, '../4m.jpg'),
    told: /^stills\["\.\.\/4m\.jpg"\]: leaves the walk's folder/,
  },
  {
    about: 'a pick with three corners',
    file: 'picks.json',
    spoil: picks({ corners: PICK.corners.slice(1) }),
    told: /^stills\["stills\/day\/4m\.jpg"\]\.corners.*: .+/,
  },
  {
    about: 'a pick with corners and ends',
    file: 'picks.json',
    spoil: picks({ ends: PICK.corners.slice(2) }),
    told: /^stills\["stills\/day\/4m\.jpg"\]: has both corners and ends; keep one$/,
  },
  {
    about: 'a pick clicked with no scatter at all',
    file: 'picks.json',
    spoil: picks({ sigma: 0 }),
    told: /^stills\["stills\/day\/4m\.jpg"\]\.sigma: must be above 0; /,
  },
  {
    about: 'a grading file whose limits go down',
    file: 'mine.yaml',
    spoil: async (dir) => {
      await more('grading: mine.yaml\n')(dir)
      const grades = '[{ id: a, name: A, limit: 20 }, { id: b, name: B, limit: 10 }]'
      await put(dir, 'mine.yaml', `id: mine\nname: Mine\nsource: ours\ngrades: ${grades}\n`)
    },
    told: /^grades\[1\]\.limit \(line 4\): 10 is not above the 20 before it; put the lowest limit first/,
  },
]

describe('a walk that is at fault is told in one line with its file, field and mend, ends with 2, and nothing is touched:', () => {
  test.each(CASES)('$about', async ({ spoil, told, file = 'walk.yaml' }) => {
    const dir = await home.freshWalk('bad')
    await put(dir, 'results.json', 'old results')
    await put(dir, 'sheet.pdf', 'old sheet')
    await spoil(dir)
    const before = await folderState(dir)
    const run = await runCommand('measure', dir)
    expect([run.status, run.out]).toEqual([2, ''])
    const lines = run.err.trimEnd().split('\n')
    const start = `proofwalk: ${join(dir, file)}: `
    const [line = '', ...others] = lines.filter((one) => one.startsWith(start))
    expect([others, lines.length], run.err).toEqual([[], 1])
    expect(line.slice(start.length)).toMatch(told)
    expect(await folderState(dir)).toEqual(before)
  })
})

test('several faults of one file are all told at once, a line each', async () => {
  const dir = await home.freshWalk('several')
  await put(
    dir,
    'walk.yaml',
    smallWalkYaml('colour: red\n').replace('[4 m', '[4').replace('light: day }', 'light: night }'),
  )
  const run = await runCommand('sheet', dir)
  expect(run.status).toBe(2)
  expect(run.err.trimEnd().split('\n')).toHaveLength(3)
})

test('a promise at a mark where nobody stood is judged from the fit or not shown, never made up', async () => {
  const dir = await home.freshWalk('no-such-mark')
  const promises = ['{ grade: monitor, at: 7 m, light: day }', '{ grade: monitor, at: 400 m, light: day }']
  await put(
    dir,
    'walk.yaml',
    smallWalkYaml().replace(/ {2}- .*\n/, promises.map((one) => `  - ${one}\n`).join('')),
  )
  const run = await runCommand('measure', dir, '--json')
  expect(run.status).toBe(1)
  const { promises: judged } = JSON.parse(run.out) as { promises: { verdict: string; why: string }[] }
  expect(judged.map(({ verdict }) => verdict)).toEqual(['met', expect.stringMatching(/^not (met|shown)$/)])
  for (const { why } of judged) expect(why).not.toBe('')
})
