import { copyFile, readFile, rm, symlink } from 'node:fs/promises'
import { basename, join } from 'node:path'
import { beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { runCommand } from '../cli/recordingTerminal.js'
import { folderState } from './folderState.js'
import { runProofwalk, runThroughShell } from './runProofwalk.js'
import { boardCorners, put, smallWalkYaml } from './smallWalk.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()
const CORNERS = boardCorners(6)
  .map((corner) => corner.join(','))
  .join(' ')

test('with no arguments the help is printed on standard error and the status is 2', async () => {
  const run = await runProofwalk([])
  expect([run.status, run.out]).toEqual([2, ''])
  expect(run.err).toContain('Usage: proofwalk')
  expect(run.err).toContain('Next: proofwalk new my-camera')
})

test('run in the process of these tests, the command writes and leaves the same bytes and ends alike', async () => {
  const dir = home.path('both')
  const [still, odd] = [join(dir, 'stills/day/6m.jpg'), join(dir, '6m-\u001b[31m\u202e\nred.jpg')]
  const lines: readonly (readonly [args: readonly string[], status: number])[] = [
    [['verify', dir], 2],
    [['measure', dir, '--json'], 1],
    [['measure', dir], 1],
    [['sheet', dir], 0],
    [['verify', dir], 0],
    [['measure', odd], 2],
    [['measure', dir, '--workers', '0'], 2],
    [['list', 'gradings'], 0],
    [['measure', '--help'], 0],
    [[], 2],
  ]
  const journey = async (run: (args: readonly string[]) => Promise<unknown>): Promise<readonly unknown[]> => {
    await home.freshWalk('both')
    await put(dir, 'walk.yaml', smallWalkYaml().replace('grade: observe', 'grade: identify'))
    await copyFile(still, join(dir, 'stills/day', basename(odd)))
    const runs: unknown[] = []
    for (const [args] of lines) runs.push([args, await run(args)])
    return [...runs, await folderState(dir)]
  }
  const own = await journey(runProofwalk)
  const here = await journey((args) => runCommand(...args))
  expect(here).toEqual(own)
  expect(own.slice(0, -1)).toEqual(lines.map(([args, status]) => [args, expect.objectContaining({ status })]))
  expect(JSON.stringify(own)).toContain('6m-\\\\u001b[31m')
  expect(Object.keys(own.at(-1) as object)).toEqual(expect.arrayContaining(['results.json', 'sheet.pdf']))
}, 120_000)

test.each([
  [['measrue', 'x'], "unknown command 'measrue'; did you mean measure?"],
  [['frobnicate'], "unknown command 'frobnicate'; see proofwalk --help"],
  [['measure', '--jsn', 'x'], "unknown option '--jsn'; did you mean --json?"],
  [['measure'], "missing required argument 'targets'; see proofwalk measure --help"],
  [['plan', 'a', 'b'], /^too many arguments for 'plan'.*; see proofwalk plan --help$/],
  [['list', 'gradngs'], "unknown command 'gradngs'; did you mean gradings?"],
  [['schema', 'wlak'], /'wlak' is invalid.*; did you mean walk\?$/],
  [['sheet', 'x', '--paper', 'A5'], /'A5' is invalid.*(Allowed choices are A4, Letter|did you mean A4\?)$/],
  [['measure', 'x', '--workers', '0'], /--workers <n>.*'0' is invalid.*must be a whole number from 1 to 64$/],
  [['measure', 'x', '--workers', '2.5'], /'2.5' is invalid.*must be a whole number from 1 to 64$/],
  [['measure', 'x', '--json', '--watch'], /--watch.* cannot be used with .*--json/],
  [['measure', 'nowhere'], /^nowhere: there is no such folder or still; name a walk's folder/],
  [['sheet', 'nowhere'], 'nowhere: is not there; proofwalk new nowhere makes a walk there'],
])('%j is told in one line with its mend and ends with 2', async (args, told) => {
  const run = await runProofwalk(args, { cwd: home.path() })
  expect([run.status, run.out]).toEqual([2, ''])
  expect(run.err).toMatch(/^proofwalk: .+\n$/)
  const line = run.err.slice('proofwalk: '.length, -1)
  if (typeof told === 'string') expect(line).toBe(told)
  else expect(line).toMatch(told)
})

describe('the help', () => {
  test.each([
    [],
    ['new'],
    ['measure'],
    ['sheet'],
    ['list'],
    ['list', 'gradings'],
    ['list', 'references'],
    ['schema'],
    ['demo'],
    ['chart'],
    ['plan'],
    ['compare'],
    ['verify'],
    ['summary'],
    ['read'],
  ])('of proofwalk %s %s has an example, on standard output, and ends with 0', async (...command) => {
    const run = await runCommand(...command, '--help')
    expect([run.status, run.err]).toEqual([0, ''])
    expect(run.out).toMatch(/\nExamples?:\n {2}proofwalk /)
  })

  test('names every command there is in this test', async () => {
    const run = await runCommand('--help')
    const listed = run.out.slice(run.out.indexOf('Commands:'))
    const commands = [...listed.matchAll(/^ {2}(\w+) /gm)].map(([, name]) => name)
    expect(commands.filter((name) => name !== 'proofwalk').sort()).toEqual([
      'chart',
      'compare',
      'demo',
      'help',
      'list',
      'measure',
      'new',
      'pick',
      'plan',
      'read',
      'schema',
      'sheet',
      'summary',
      'verify',
    ])
  })
})

describe('one still with no walk', () => {
  const still = (): string => home.path('pattern/stills/day/6m.jpg')
  test.each([
    [
      [],
      /^(.*pattern)\/stills\/day\/6m\.jpg: this still is of the walk \1; proofwalk measure \1 measures it, or measure it alone with --reference$/,
    ],
    [['--reference', 'board'], /^--reference: "board" is neither.*; write its size, such as 600x400mm, or/],
    [['--reference', 'plate-ue'], /^--reference: "plate-ue" .*did you mean plate-eu\?/],
    [['--reference', '600x400'], /^--reference: "600x400" is not a size; write it like 600x400mm/],
    [['--reference', '600x400mm'], /^--corners: it is needed.*--corners "x,y x,y x,y x,y"/],
    [['--reference', '600x400mm', '--corners', '1,1 2,2'], /^--corners: 2 points came, 4 are needed; give/],
    [
      ['--reference', '600x400mm', '--corners', '1,1 2,2 3,3 4;4'],
      /^--corners: "4;4" is not a point of the form x,y; give/,
    ],
    [
      ['--reference', '600x400mm', '--corners', `1,1 9,1 9,9 ${'9'.repeat(400)},9`],
      /^--corners: .*too large to be in a still/,
    ],
    [
      ['--reference', '600x400mm', '--corners', CORNERS, '--ends', '1,1 9,9'],
      /^--ends: the reference is a rectangle; /,
    ],
    [
      ['--reference', '2m', '--corners', CORNERS],
      /^--corners: the reference is a length; a length has --ends/,
    ],
    [
      ['--reference', '600x400mm', '--corners', CORNERS, '--sigma', '0'],
      /^--sigma: "0" is not a number of pixels/,
    ],
    [['--reference', '600x400mm', '--corners', CORNERS, '--distance', '6'], /^--distance: "6" has no unit/],
    [
      ['--reference', '600x400mm', '--corners', CORNERS, '--grading', 'iec'],
      /^--grading: "iec" is not a built-in grading; /,
    ],
    [
      ['--reference', '600x400mm', '--corners', CORNERS, '--grading', './no.yaml'],
      /^--grading: .*no\.yaml" is not there; /,
    ],
    [['--workers', '2'], "--workers: is for a walk's folder; leave it out"],
  ])('%j is told in one line with option and mend', async (args, told) => {
    const run = await runCommand('measure', still(), ...args)
    expect([run.status, run.out]).toEqual([2, ''])
    expect(run.err).toMatch(/^proofwalk: .+\n$/)
    const line = run.err.slice('proofwalk: '.length, -1)
    if (typeof told === 'string') expect(line).toBe(told)
    else expect(line).toMatch(told)
  })

  test('that no walk is around needs a reference', async () => {
    await put(home.path(), 'alone.jpg', 'no picture')
    const run = await runCommand('measure', home.path('alone.jpg'))
    expect([run.status, run.err]).toEqual([
      2,
      'proofwalk: --reference: it is needed to measure one still; name a preset or a size: 600x400mm, or --chart A2 for the printed chart\n',
    ])
  })

  test('that is a pipe, a link or a file of a walk is refused and never waited for', async () => {
    const dir = await home.freshWalk('single')
    await symlink(still(), join(dir, 'link.jpg'))
    const args = ['--reference', '600x400mm', '--corners', CORNERS]
    const pipe = await runThroughShell(`mkfifo '${dir}/pipe.jpg'; exec "$@"`, [
      'measure',
      `${dir}/pipe.jpg`,
      ...args,
    ])
    expect([pipe.status, pipe.err]).toEqual([2, expect.stringMatching(/pipe\.jpg: it is a pipe; put/)])
    const link = await runProofwalk(['measure', `${dir}/link.jpg`, ...args])
    expect([link.status, link.err]).toEqual([2, expect.stringMatching(/link\.jpg: it is a link; put/)])
    const yaml = await runProofwalk(['measure', `${dir}/walk.yaml`])
    expect(yaml.err).toBe(
      `proofwalk: ${dir}/walk.yaml: belongs to a walk and is not a still; name its folder: proofwalk measure ${dir}\n`,
    )
  })

  test('is measured with a grading file that lies anywhere', async () => {
    const dir = await home.freshWalk('elsewhere')
    const grades = '[{ id: near, name: Near, limit: 150 }, { id: close, name: Close, limit: 180 }]'
    await put(dir, 'own/mine.yaml', `id: mine\nname: Mine\nsource: ours\ngrades: ${grades}\n`)
    const args = ['--reference', '600x400mm', '--corners', CORNERS, '--grading', join(dir, 'own/mine.yaml')]
    const run = await runCommand('measure', still(), ...args, '--json')
    expect(run.err).toBe('')
    expect((JSON.parse(run.out) as { gradeByPixels: string }).gradeByPixels).toBe('close')
  })
})

test("a walk's folder may be a link, and its name may hold blanks", async () => {
  const dir = await home.freshWalk('gable, north')
  await symlink(dir, home.path('by link'))
  const run = await runCommand('measure', home.path('by link'))
  expect(run.status).toBe(0)
  expect(run.out.trimEnd().split('\n').at(-1)).toBe(`Next: proofwalk sheet '${home.path('by link')}'`)
  expect((await folderState(dir))['results.json']).toBeDefined()
})

test('options of one still are refused for a folder, and nothing is measured', async () => {
  const dir = await home.freshWalk('options')
  const run = await runCommand('measure', dir, '--sigma', '1')
  expect([run.status, run.out]).toEqual([2, ''])
  expect(run.err).toBe(
    'proofwalk: --sigma: is for one still; in a walk this stands in walk.yaml and picks.json\n',
  )
  expect((await folderState(dir))['results.json']).toBeUndefined()
})

test('the sheet never takes the place of a file that is not a PDF, however --out is mistyped', async () => {
  const dir = await home.freshWalk('out')
  const before = await folderState(dir)
  for (const out of ['walk.yaml', 'picks.json', 'stills/day/4m.jpg']) {
    const run = await runCommand('sheet', dir, '--out', join(dir, out))
    expect([run.status, run.out]).toEqual([2, ''])
    expect(run.err).toBe(
      `proofwalk: ${join(dir, out)}: exists, is not a PDF, and is not overwritten; name another file with --out, or move it away\n`,
    )
  }
  expect(await folderState(dir)).toEqual(before)
  const nowhere = await runCommand('sheet', dir, '--out', join(dir, 'no/such/sheet.pdf'))
  expect([nowhere.status, nowhere.err]).toEqual([
    2,
    expect.stringMatching(/sheet\.pdf: cannot be written: its folder is not there; make the folder first\n$/),
  ])
})

describe('the output', () => {
  // What was measured once of its stills is kept for the next.
  let dir: string
  beforeAll(async () => {
    dir = await home.freshWalk('output')
  })
  beforeEach(() => rm(join(dir, 'results.json'), { force: true }))

  test('has no colours without a terminal, and none with NO_COLOR', async () => {
    const run = await runProofwalk(['measure', dir], { env: { NO_COLOR: '1', FORCE_COLOR: '' } })
    expect(run.out + run.err).not.toContain('\u001b')
  })

  test('may lose its reader: a closed pipe ends it quietly, and the results are whole', async () => {
    const line = '"$@" | head -n 1; echo "status ${PIPESTATUS[0]}"'
    const run = await runThroughShell(line, ['measure', dir])
    expect([run.out, run.err]).toEqual(['day, board\nstatus 0\n', ''])
    expect(JSON.parse(await readFile(join(dir, 'results.json'), 'utf8'))).toHaveProperty('stills.2')
    const gone = await runThroughShell('"$@" | true; echo "status ${PIPESTATUS[0]}"', ['schema', 'results'])
    expect([gone.out, gone.err]).toEqual(['status 0\n', ''])
  })

  test('may be closed from the start', async () => {
    const run = await runThroughShell('exec "$@" >&-', ['measure', dir])
    expect([run.status, run.err]).toEqual([0, ''])
    expect((await folderState(dir))['results.json']).toBeDefined()
  })

  test.skipIf(process.platform !== 'linux')(
    'that cannot be written is told in one line and ends with 2 (skipped where there is no /dev/full)',
    async () => {
      const run = await runThroughShell('exec "$@" > /dev/full', ['schema', 'results'])
      expect([run.status, run.err]).toEqual([
        2,
        'proofwalk: standard output: cannot be written (ENOSPC); make room or send it elsewhere\n',
      ])
    },
  )
})
