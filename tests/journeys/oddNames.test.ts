import { execFileSync } from 'node:child_process'
import { copyFile, mkdir, readFile, stat, symlink, utimes, writeFile } from 'node:fs/promises'
import { createServer } from 'node:net'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { type CommandRecord, runCommand } from '../cli/recordingTerminal.js'
import { runProofwalk } from './runProofwalk.js'
import { boardCorners, put, putPicks } from './smallWalk.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()
/** Control and direction signs, line ends apart. */
const RAW = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]/u

const ODD = {
  escape: '6m-\u001b[31mred\u0007.jpg',
  bidi: '6m-\u202egpj.exe.jpg',
  line: '6m-one\nproofwalk: all is well.jpg',
  c1: '6m-\u009b2J.jpg',
}

async function oddWalk(name: string): Promise<string> {
  const dir = await home.freshWalk(name)
  const from = join(dir, 'stills/day/6m.jpg')
  const picks = [4, 6, 9].map((mark) => ({ file: `stills/day/${mark}m.jpg`, corners: boardCorners(mark) }))
  for (const odd of [ODD.escape, ODD.bidi]) {
    await copyFile(from, join(dir, 'stills/day', odd))
    picks.push({ file: `stills/day/${odd}`, corners: boardCorners(6) })
  }
  await putPicks(dir, picks)
  for (const odd of [ODD.line, ODD.c1]) await copyFile(from, join(dir, 'stills/day', odd))
  return dir
}

test('no name of a file reaches the terminal as it is, and JSON says the same', async () => {
  const dir = await oddWalk('odd-names')
  const runs: CommandRecord[] = []
  for (const args of [
    ['measure', dir],
    ['measure', dir, '--json'],
    ['sheet', dir],
    ['verify', dir],
  ])
    runs.push(await runCommand(...args))
  for (const odd of Object.values(ODD)) {
    const file = join(dir, 'stills/day', odd)
    runs.push(
      await runCommand('measure', file),
      await runCommand('plan', file),
      await runCommand('verify', file),
    )
    runs.push(await runCommand('measure', file, '--reference', '600x400mm', '--corners', 'x'))
  }
  for (const { out, err } of runs) {
    expect(out).not.toMatch(RAW)
    expect(err).not.toMatch(RAW)
    expect(`${out}${err}`).not.toMatch(/^proofwalk: all is well/m)
  }
  expect(runs[0]!.out).toContain('6m-one\\u000aproofwalk: all is well.jpg')
  const files = (JSON.parse(runs[1]!.out) as { stills: { file: string }[] }).stills.map(({ file }) => file)
  expect(files).toContain(`stills/day/${ODD.escape}`)
  expect(files).toContain(`stills/day/${ODD.bidi}`)
  expect(runs[3]!.out.split('\n')[0]).toBe(`${dir}: everything belongs together`)
}, 120_000)

test('a pipe, a socket, a folder link and a name that is not UTF-8 are told alike, whether measured or verified', async () => {
  const dir = await home.freshWalk('odd-kinds')
  const day = join(dir, 'stills/day')
  execFileSync('mkfifo', [join(day, '5m.jpg')])
  const server = createServer().listen(join(day, '7m.jpg'))
  await new Promise((resolve) => server.once('listening', resolve))
  await mkdir(join(dir, 'elsewhere'))
  await symlink(join(dir, 'elsewhere'), join(day, '8m.jpg'))
  const noText = (first: number): Buffer =>
    Buffer.concat([Buffer.from(`${day}/`), Buffer.from([0x33, 0x6d, first]), Buffer.from('.jpg')])
  for (const first of [0xe9, 0xff]) await writeFile(noText(first), 'x')
  try {
    const measured = await runCommand('measure', dir)
    expect(measured.status).toBe(0)
    for (const told of [
      'stills/day/5m.jpg: is a pipe, socket or device',
      'stills/day/7m.jpg: is a pipe, socket or device',
      'stills/day/8m.jpg: is a folder or leads to one',
      'stills/day/3m\\xe9.jpg: has a name that is not UTF-8; rename it',
      'stills/day/3m\\xff.jpg: has a name that is not UTF-8; rename it',
    ])
      expect(measured.out).toContain(told)
    const verified = await runCommand('verify', dir)
    expect(verified.out).toContain('everything belongs together')
    expect(verified.status).toBe(0)
    execFileSync('rm', [join(day, '5m.jpg')])
    execFileSync('mkfifo', [join(day, '2m.jpg')])
    const changed = await runCommand('verify', dir)
    expect(changed.out).toContain('stills/day/5m.jpg: is gone; it was not measured, but it was there')
    expect(changed.out).toContain('stills/day/2m.jpg: is new; the results do not mention it')
    expect(changed.status).toBe(1)
  } finally {
    server.close()
  }
}, 60_000)

test('a pipe that is named as key or as list of cameras is refused and never waited for', async () => {
  const dir = await home.freshWalk('named-pipes')
  const pipe = home.path('pipe')
  execFileSync('mkfifo', [pipe])
  await runCommand('measure', dir)
  for (const args of [
    ['sheet', dir, '--sign', pipe],
    ['new', home.path('many'), '--from', dir, '--cameras', pipe],
  ]) {
    const run = await runProofwalk(args, { killAfterMs: 30_000 })
    expect([run.status, run.err]).toEqual([
      2,
      `proofwalk: ${pipe}: is not an ordinary file; put a file there\n`,
    ])
  }
  const read = await runProofwalk(['read', pipe], { killAfterMs: 30_000 })
  expect(read.status).toBe(2)
}, 120_000)

test('3,000 faults of one kind are one line and a count', async () => {
  const dir = await home.freshWalk('many-faults')
  const picks = JSON.parse(await readFile(join(dir, 'picks.json'), 'utf8')) as {
    stills: Record<string, unknown>
  }
  for (let index = 0; index < 3000; index++) picks.stills[`stills/day/9m-${index}.jpg`] = { corners: [1, 2] }
  await put(dir, 'picks.json', JSON.stringify(picks))
  const run = await runCommand('measure', dir)
  expect(run.status).toBe(2)
  const lines = run.err.trimEnd().split('\n')
  expect(lines.length).toBeLessThan(10)
  expect(lines.some((line) => line.endsWith('(and 2999 more of this kind)'))).toBe(true)

  const unnamed = await home.freshWalk('many-files')
  for (let index = 0; index < 3000; index++) await put(unnamed, `stills/day/IMG_${index}.jpg`, '')
  const measured = await runCommand('measure', unnamed)
  expect(measured.out).toContain('stills/day/IMG_0.jpg: does not give a distance')
  expect(measured.out).toContain('(and 2999 more of this kind)')
  expect(measured.out.split('\n').length).toBeLessThan(60)
}, 60_000)

test('what a killed process left half written is swept after a day, and nothing else', async () => {
  const dir = await home.freshWalk('leftovers')
  const old = new Date(Date.now() - 25 * 3600_000)
  const names = [
    '.results.json.0123456789ab.part',
    '.sheet.pdf.ffffffffffff.part',
    '.notes.part',
    'a.0123456789ab.part',
  ]
  for (const name of names) {
    await put(dir, name, 'half')
    if (!name.startsWith('.sheet')) await utimes(join(dir, name), old, old)
  }
  await runCommand('measure', dir)
  const left = await Promise.all(
    names.map((name) =>
      stat(join(dir, name)).then(
        () => name,
        () => null,
      ),
    ),
  )
  expect(left.filter((name) => name !== null)).toEqual(names.slice(1))
})
