import { cp, mkdir, readFile, readdir, rm, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import sharp from 'sharp'
import { beforeAll, describe, expect, test } from 'vitest'
import { parseCsv } from '../../src/files/csv.js'
import { readWalk } from '../../src/walk/read/readWalk.js'
import { runCommand } from '../cli/recordingTerminal.js'
import { hasPoppler, poppler } from '../sheet/poppler.js'
import { boardCorners, boardStill, put, putPicks, putSmallStills, smallWalkYaml } from './smallWalk.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()
const LIST = `name;id;serial;mountHeight;tilt
Gate camera;C-01;60317;2.6 m;12
"Slip, north";C-02;;3,1 m;8.5
Loft camera;C-03;4713;;
`
const FOLDERS = ['c-01-gate-camera', 'c-02-slip-north', 'c-03-loft-camera']

describe('a whole site, from a list of cameras to one PDF', () => {
  let site: string
  let dirs: string[]
  beforeAll(async () => {
    site = home.path('site')
    dirs = FOLDERS.map((folder) => join(site, folder))
    await writeFile(home.path('cameras.csv'), LIST)
    await put(
      home.path('like'),
      'walk.yaml',
      smallWalkYaml('observations:\n  - { mark: 9 m, light: day, triggered: true }\n').replace(
        'marks:',
        '# a comment that stays\nmarks:',
      ),
    )
  })

  test('makes a walk alike for every camera, with what its line says', async () => {
    const run = await runCommand(
      'new',
      site,
      '--from',
      home.path('like'),
      '--cameras',
      home.path('cameras.csv'),
    )
    expect([run.status, run.err]).toEqual([0, ''])
    expect(run.out).toMatch(/^wrote 3 walks like .*\nNext: proofwalk measure .*site\/\*\n$/s)
    expect((await readdir(site)).sort()).toEqual(FOLDERS)
    const walks = await Promise.all(dirs.map(readWalk))
    expect(
      walks.map(({ camera }) => [camera.name, camera.id, camera.serial, camera.mountHeightM, camera.tiltDeg]),
    ).toEqual([
      ['Gate camera', 'C-01', '60317', 2.6, 12],
      ['Slip, north', 'C-02', null, 3.1, 8.5],
      ['Loft camera', 'C-03', '4713', null, null],
    ])
    for (const walk of walks)
      expect([walk.promises.length, walk.observations.length, walk.marksM]).toEqual([1, 0, [4, 6, 9]])
    expect(await readFile(join(dirs[0]!, 'walk.yaml'), 'utf8')).toContain('# a comment that stays')
    expect(await readdir(join(dirs[1]!, 'stills'))).toEqual(['day'])
  })

  test('writes nothing where one of the folders is there already', async () => {
    await rm(join(site, FOLDERS[0]!), { recursive: true })
    const run = await runCommand(
      'new',
      site,
      '--from',
      home.path('like'),
      '--cameras',
      home.path('cameras.csv'),
    )
    expect([run.status, run.out]).toEqual([2, ''])
    expect(run.err).toMatch(/c-02-slip-north: exists .*nothing was written/)
    expect((await readdir(site)).sort()).toEqual(FOLDERS.slice(1))
    await rm(site, { recursive: true })
    await runCommand('new', site, '--from', home.path('like'), '--cameras', home.path('cameras.csv'))
  })

  test('measures all at once, and goes on where one cannot be read', async () => {
    for (const [index, dir] of dirs.entries()) await putSmallStills(dir, 10 * index)
    // The second camera was sold to do more than it does.
    const yaml = await readFile(join(dirs[1]!, 'walk.yaml'), 'utf8')
    await writeFile(join(dirs[1]!, 'walk.yaml'), yaml.replace('grade: observe', 'grade: identify'))
    const broken = await runCommand('measure', dirs[0]!, home.path('nowhere'), dirs[2]!)
    expect(broken.status).toBe(2)
    expect(broken.err).toMatch(/nowhere: is not there/)
    const run = await runCommand('measure', ...dirs, '--json')
    const { walks } = JSON.parse(run.out) as { walks: { dir: string; results: { stills: unknown[] } }[] }
    expect([
      run.status,
      walks.map(({ dir }) => dir),
      walks.map(({ results }) => results.stills.length),
    ]).toEqual([1, dirs, [3, 3, 3]])
  }, 120_000)

  test('has no text in its CSV that a spreadsheet runs, and its figures as figures', async () => {
    const dir = home.path('formula')
    await cp(dirs[0]!, dir, { recursive: true })
    const yaml = await readFile(join(dir, 'walk.yaml'), 'utf8')
    await writeFile(join(dir, 'walk.yaml'), yaml.replace('Gate camera', '"=cmd|gate"'))
    expect((await runCommand('measure', dir)).err).toBe('')
    await runCommand('summary', dir, '--csv', home.path('formula.csv'))
    const { rows } = parseCsv(await readFile(home.path('formula.csv'), 'utf8'))
    const [head, row] = rows.map(({ fields }) => fields) as [string[], string[]]
    expect(row[head.indexOf('camera')]).toBe("'=cmd|gate")
    expect(Number(row[head.indexOf('value_px_per_m')])).toBeGreaterThan(0)
  })

  test('sums up: every promise, the worst first, in table, JSON and CSV', async () => {
    const run = await runCommand('summary', ...dirs, '--csv', home.path('site.csv'))
    expect([run.status, run.err]).toEqual([1, ''])
    expect(run.out.split('\n').slice(0, 3)).toEqual([
      '3 cameras, held to IEC 62676-4:2014 (withdrawn on 2025-10-09).',
      'By the pixel count of IEC 62676-4:2014: 2 of 3 promises met, 1 not met.',
      'With detail, by our stricter rule: 2 of 3 promises met, 1 not met.',
    ])
    const rows = run.out.split('\n').filter((line) => /^ {2}(not met|met) /.test(line))
    expect(rows.map((row) => row.trim().split(/ {2,}/).slice(0, 4))).toEqual([
      ['not met', 'not met', 'C-02', 'Slip, north'],
      ['met', 'met', 'C-01', 'Gate camera'],
      ['met', 'met', 'C-03', 'Loft camera'],
    ])
    const { rows: csv } = parseCsv(await readFile(home.path('site.csv'), 'utf8'))
    expect(csv.map(({ fields }) => [fields[0], fields[12]])).toEqual([
      ['verdict', 'camera'],
      ['not met', 'Slip, north'],
      ['met', 'Gate camera'],
      ['met', 'Loft camera'],
    ])
    const json = JSON.parse((await runCommand('summary', ...dirs, '--json')).out) as {
      counts: Record<string, number>
      promises: { dir: string; verdict: string }[]
    }
    expect(json.counts).toEqual({ cameras: 3, promises: 3, met: 2, notMet: 1, notShown: 0, notCurrent: 0 })
    expect(json.promises[0]).toMatchObject({ dir: dirs[1], verdict: 'not met' })
  })

  test.skipIf(!hasPoppler())(
    'prints one PDF of all with one place to sign, the same bytes every time (skipped only without poppler)',
    async () => {
      const [one, two] = [home.path('one.pdf'), home.path('two.pdf')]
      for (const file of [one, two]) await runCommand('summary', ...dirs, '--pdf', file)
      const bytes = await readFile(one)
      expect(bytes.equals(await readFile(two))).toBe(true)
      const text = poppler('pdftotext', ['-layout', 'FILE', '-'], bytes).replace(/\s+/g, ' ')
      expect(text.indexOf('Slip, north')).toBeLessThan(text.indexOf('Gate camera'))
      expect(text.match(/Signature/g)).toHaveLength(2)
      expect(text).toContain('never identity')
      expect(text).toContain('withdrawn on 2025-10-09')
      expect(text).toContain('One signature of each side stands for every camera above.')
      expect(poppler('pdfinfo', ['FILE'], bytes)).toMatch(/^Tagged: +yes$/m)
    },
  )

  test('writes all sheets at once', async () => {
    const run = await runCommand('sheet', ...dirs)
    expect([run.status, run.err]).toEqual([0, ''])
    expect(run.out.split('\n').slice(0, 3)).toEqual(dirs.map((dir) => join(dir, 'sheet.pdf')))
  }, 120_000)

  test('tells pictures of one walk that stand in another, and ends with 1', async () => {
    const copy = home.path('copied')
    await cp(dirs[2]!, copy, { recursive: true })
    const yaml = await readFile(join(copy, 'walk.yaml'), 'utf8')
    await writeFile(
      join(copy, 'walk.yaml'),
      yaml.replace('name: Loft camera', 'name: Shed camera').replace('C-03', 'C-04').replace('4713', '4714'),
    )
    await rm(join(copy, 'stills/day/6m.jpg'))
    expect((await runCommand('measure', copy)).status).toBe(0)
    expect((await runCommand('summary', copy)).status).toBe(0)
    const run = await runCommand('summary', dirs[2]!, copy, '--pdf', home.path('copied.pdf'))
    expect(run.status).toBe(1)
    expect(run.out).toMatch(
      /^2 cameras, .*\n.*2 of 2 promises met\.\n.*2 of 2 promises met\.\nPictures of one walk stand in another\.\n/,
    )
    expect(run.out).toContain(
      `${dirs[2]!}/stills/day/4m.jpg and ${copy}/stills/day/4m.jpg are one picture, and so are 1 more of these two walks`,
    )
    const { findings } = JSON.parse((await runCommand('compare', dirs[2]!, copy, '--json')).out) as {
      findings: { code: string }[]
    }
    expect(findings.map(({ code }) => code)).toEqual(['other-camera', 'same-picture'])
  })

  test('verify holds the walks against each other too: different exposures are, a copy is not', async () => {
    const well = await runCommand('verify', ...dirs)
    expect([well.status, well.err]).toEqual([0, ''])
    expect(well.out).toContain(
      'Between the walks\n  belongs   one picture, one scene: no picture was found in two of them',
    )
    expect(well.out.trimEnd().split('\n').at(-1)).toBe(`Next: proofwalk summary ${dirs[0]!} ...`)
    const copied = await runCommand('verify', dirs[0]!, home.path('copied'), dirs[2]!, '--no-scene', '--json')
    const { matches, targets, between } = JSON.parse(copied.out) as {
      matches: boolean
      targets: { target: string; matches: boolean }[]
      between: { what: string; matches: boolean; message: string }[]
    }
    // The copy has the sheet of the walk it was copied from.
    expect([copied.status, matches, targets.map((one) => one.matches)]).toEqual([
      1,
      false,
      [true, false, true],
    ])
    expect(between).toEqual([
      {
        what: 'one picture',
        matches: false,
        message: `${home.path('copied')}/stills/day/4m.jpg and ${dirs[2]!}/stills/day/4m.jpg are one picture, and so are 1 more of these two walks`,
      },
    ])
  })

  test('tells pictures of one walk that stand in another encoded again, in summary, verify and compare', async () => {
    const again = home.path('again')
    await cp(dirs[2]!, again, { recursive: true })
    await rm(join(again, 'sheet.pdf'))
    for (const mark of ['4m', '9m']) {
      const file = join(again, `stills/day/${mark}.jpg`)
      await writeFile(
        file,
        await sharp(await readFile(file))
          .jpeg({ quality: 95 })
          .toBuffer(),
      )
    }
    await put(again, 'stills/day/6m.jpg', await boardStill(6, 'jpeg', 606))
    await putPicks(
      again,
      [4, 6, 9].map((mark) => ({ file: `stills/day/${mark}m.jpg`, corners: boardCorners(mark) })),
    )
    expect((await runCommand('measure', again)).status).toBe(0)
    const words = `${dirs[2]!}/stills/day/4m.jpg and ${again}/stills/day/4m.jpg may be one picture, encoded again, and so may be 1 more of these two walks`
    for (const command of ['summary', 'verify']) {
      const { status, out } = await runCommand(command, dirs[2]!, again)
      expect([status, out]).toEqual([1, expect.stringContaining(words)])
      const unlooked = await runCommand(command, dirs[2]!, again, '--no-scene')
      expect([unlooked.status, unlooked.out]).toEqual([0, expect.not.stringContaining('may be one picture')])
    }
    const { findings } = JSON.parse((await runCommand('compare', dirs[2]!, again, '--json')).out) as {
      findings: { code: string; message: string }[]
    }
    expect(findings.find(({ code }) => code === 'same-picture')?.message).toMatch(
      /^2 of the 3 later pictures may be earlier ones, encoded again/,
    )
  }, 120_000)

  test('tells a walk whose files changed, and leaves its promises out', async () => {
    await writeFile(join(dirs[0]!, 'stills/day/6m.jpg'), 'changed')
    const run = await runCommand('summary', ...dirs)
    expect(run.status).toBe(1)
    expect(run.out).toMatch(/1 walk without current results/)
    expect(run.out).toMatch(/c-01-gate-camera: stills\/day\/6m\.jpg has changed since/)
    expect(run.out).not.toMatch(/met .*C-01/)
  })
})

test('a list gives each camera its own promises, marks and lights, its headers in any case', async () => {
  await put(home.path('pattern'), 'walk.yaml', smallWalkYaml())
  const list = home.path('promises.csv')
  await writeFile(
    list,
    'NAME;Mount height;Promises;MARKS;lights\n' +
      "Gate;2.6 m;read a plate at 8 m in day | recognise at 20' in infrared|recognise at 20 feet in ir;4 m, 8 m;day | infrared\n" +
      'Yard;;;;\n',
  )
  const site = home.path('promised')
  const run = await runCommand('new', site, '--from', home.path('pattern'), '--cameras', list)
  expect([run.status, run.err]).toEqual([0, ''])
  const [gate, yard] = await Promise.all(['gate', 'yard'].map((name) => readWalk(join(site, name))))
  expect(gate!.promises).toEqual([
    { task: 'read a plate', grade: 'identify', distanceM: 8, light: 'day' },
    { grade: 'recognise', distanceM: 6.096, light: 'infrared' },
  ])
  expect([gate!.marksM, gate!.lights, gate!.camera.mountHeightM]).toEqual([[4, 8], ['day', 'infrared'], 2.6])
  expect((await readdir(join(site, 'gate', 'stills'))).sort()).toEqual(['day', 'infrared'])
  expect(yard!.promises).toEqual([{ grade: 'observe', distanceM: 9, light: 'day' }])
  expect([yard!.marksM, yard!.lights]).toEqual([[4, 6, 9], ['day']])

  await writeFile(
    list,
    'name,promises,marks\nGate,see far at 8 m in day|read a plate at 8 m,4\nYard,observe at 9 m in dark,4 m\n',
  )
  const faulty = await runCommand('new', home.path('none'), '--from', home.path('pattern'), '--cameras', list)
  expect(faulty.status).toBe(2)
  expect(faulty.err).toMatch(/line 2, promises: "see far" is neither a task nor a grade/)
  expect(faulty.err).toMatch(/line 2, promises: "read a plate at 8 m" names no light/)
  expect(faulty.err).toMatch(/line 2, marks: "4" has no unit/)
  expect(faulty.err).toMatch(/line 3, promises: "dark" is not one of the lights/)
})

test('every fault of a list is told at once, by its line and column, and nothing is written', async () => {
  await put(home.path('alike'), 'walk.yaml', smallWalkYaml())
  const list = home.path('faulty.csv')
  await writeFile(
    list,
    'name,mountHight,tilt,date\nGate,2 m,12,2026-01-01\nGate,2 m,steep,2026-01-01\n,2 m,1,2026-13-01\n',
  )
  const site = home.path('not-made')
  const run = await runCommand('new', site, '--from', home.path('alike'), '--cameras', list)
  expect([run.status, run.out]).toEqual([2, ''])
  expect(run.err).toMatch(/faulty\.csv: mountHight: is not a known column; did you mean mountHeight\?/)
  expect(run.err).toMatch(/faulty\.csv: line 3: two cameras would share gate/)
  expect(run.err).toMatch(/faulty\.csv: line 3, tilt: must be a number/)
  expect(run.err).toMatch(/faulty\.csv: line 4, name: is empty/)
  expect(run.err).toMatch(/faulty\.csv: line 4, date: .*not a date/)
  await expect(readdir(site)).rejects.toThrow('ENOENT')
})

test.each([
  [['--from', 'walk'], /^proofwalk: --cameras: is needed with --from/],
  [['--cameras', 'list.csv'], /^proofwalk: --from: is needed with --cameras/],
  [
    ['--from', 'walk', '--cameras', 'list.csv', '--field-of-view', '90'],
    /--field-of-view: does not go with --cameras/,
  ],
])('new %j is refused', async (options, told) => {
  const run = await runCommand('new', home.path('refused'), ...options)
  expect([run.status, run.out]).toEqual([2, ''])
  expect(run.err).toMatch(told)
})

test('a CSV is never written over what is called otherwise', async () => {
  const dir = await home.freshWalk('kept')
  await mkdir(dir, { recursive: true })
  await runCommand('measure', dir)
  const run = await runCommand('summary', dir, '--csv', join(dir, 'walk.yaml'))
  expect([run.status, run.err]).toEqual([2, expect.stringMatching(/walk\.yaml: is not called a CSV/)])
  expect(await readFile(join(dir, 'walk.yaml'), 'utf8')).toBe(smallWalkYaml())
})
