import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, test } from 'vitest'
import { parseWalk } from '../../src/walk/read/parseWalk.js'
import { CHART_PAPERS } from '../../src/chart/printed/chartPapers.js'
import { INCH_M } from '../../src/units/formatLength.js'
import { SHORT_WALK } from '../walk/walkText.js'
import { runCommand } from './recordingTerminal.js'

let home: string
beforeAll(async () => {
  home = await mkdtemp(join(tmpdir(), 'proofwalk-chart-'))
})
afterAll(() => rm(home, { recursive: true, force: true }))

// First build, 1.11: the nominal width stood there to be pasted, and a print of 97 % then read 3 % off without a word.
test('asks for the width as measured, and what it prints cannot be pasted as one', async () => {
  const out = join(home, 'chart.pdf')
  const run = await runCommand('chart', '--paper', 'A2', '--out', out)
  expect([run.status, run.err]).toEqual([0, ''])
  expect((await readFile(out)).subarray(0, 5).toString('latin1')).toBe('%PDF-')
  const [, entry] = /write into walk\.yaml: (chart: .*)$/m.exec(run.out)!
  expect(entry).toBe('chart: { chart: A2, printedWidth: <the width you measure> }')
  expect(entry).not.toMatch(/\d mm/)
  const pasted = SHORT_WALK.replace('plate: { preset: plate-eu }', entry!)
  expect(pasted).toContain(entry)
  await expect(parseWalk(pasted, { file: 'walk.yaml', dir: '.', sha256: '' })).rejects.toThrow(
    /printedWidth.*<the width you measure>/s,
  )
})

test('writes its strips, says where they go, and what it prints stands in a walk that is read', async () => {
  const out = join(home, 'strips.pdf')
  const run = await runCommand('chart', '--strip', '--paper', 'a3', '--out', out)
  expect([run.status, run.err]).toEqual([0, ''])
  const [, entry] = /walk\.yaml: (strip: .*)$/m.exec(run.out)!
  const file = { file: 'walk.yaml', dir: '.', sha256: '' }
  const walkWith = (strip: string) =>
    parseWalk(SHORT_WALK.replace('plate: { preset: plate-eu }', `chart: { chart: A3, ${strip} }`), file)
  expect((await walkWith(entry!)).references[0]!.reference).toMatchObject({ strip: 'A3' })
  await expect(walkWith('strip: A9')).rejects.toThrow(/A9/)
  const grey = await runCommand('chart', '--strip', '--dim', '--out', out)
  expect([grey.status, grey.err]).toEqual([2, expect.stringContaining('strips are printed on white')])
})

test('a new walk asks for it in the same words, with no width to uncomment', async () => {
  const folder = join(home, 'walk')
  await runCommand('new', folder, '--site', 'North slipway', '--carry', 'chart A2')
  const yaml = await readFile(join(folder, 'walk.yaml'), 'utf8')
  expect(yaml).toMatch(/^ *chart: \{ chart: A2 \} +# add printedWidth: <the width you measure>; 487\.2 mm/m)
  expect(yaml).not.toMatch(/printedWidth: 487/)
})

test.each(CHART_PAPERS)(
  '$name: the order names a sheet in inches on which the chart is whole',
  async (paper) => {
    const out = join(home, `${paper.id}.pdf`)
    const run = await runCommand('chart', '--paper', paper.id, '--out', out)
    const [, order] = /^(Order one print of .*)$/m.exec(run.out)!
    expect(order).toContain(paper.name)
    const [short, long] = /([\d.]+) x ([\d.]+) in\b/
      .exec(order!)!
      .slice(1)
      .map((side) => Number(side) * INCH_M)
    expect(short! - paper.heightM).toBeGreaterThan(-1e-9)
    expect(long! - paper.widthM).toBeGreaterThan(-1e-9)
  },
)
