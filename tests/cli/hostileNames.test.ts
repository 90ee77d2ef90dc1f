import { readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { put } from '../journeys/smallWalk.js'
import { temporaryHome } from '../journeys/temporaryHome.js'
import { runCommand } from './recordingTerminal.js'

const home = temporaryHome()

test.each(['toString', 'constructor', '__proto__', 'hasOwnProperty'])(
  '%s is a name like any other',
  async (name) => {
    const list = home.path(`${name}.csv`)
    const source = await home.freshWalk(`source-${name}`)
    await writeFile(list, `name,${name}\nGate,x\n`)
    const made = await runCommand(...['new', home.path(`made-${name}`), '--from', source, '--cameras', list])
    expect(made.err).toMatch(new RegExp(`^proofwalk: .*: ${name}: is not a known column`))
    expect(made.status).toBe(2)

    const walk = await home.freshWalk(`walk-${name}`)
    const text = await readFile(join(walk, 'walk.yaml'), 'utf8')
    const bad = [
      [text.replace('lights:', `${name}: 1\nlights:`), `walk.yaml: ${name} (line`],
      [text.replace('grade: observe', `grade: ${name}`), `"${name}" is not a grade`],
      [`${text}grading: ${name}\n`, `"${name}" is not a built-in grading`],
      [text.replace('board:', `${name}:`), ''],
      [text.replace('{ width: 600 mm, height: 400 mm }', name), ''],
    ] as const
    for (const [changed, told] of bad) {
      await put(walk, 'walk.yaml', changed)
      const run = await runCommand(...['measure', walk])
      expect(run.err, changed).not.toContain('a fault of our own')
      expect(run.err, changed).toContain(told)
      expect(run.status, `${changed}${run.err}`).toBeLessThan(3)
    }
    await put(walk, 'walk.yaml', text)
    await put(
      walk,
      'picks.json',
      `{"format":"proofwalk-picks/1","stills":{"${name}":{"sha256":"${'0'.repeat(64)}","reference":"${name}","corners":[[1,2],[3,2],[3,4],[1,4]]}}}`,
    )
    const picked = await runCommand(...['measure', walk])
    expect(picked.err).not.toContain('a fault of our own')
    expect(picked.status).toBeLessThan(3)
    const typed = await Promise.all(
      [
        ['list', name],
        ['schema', name],
        ['help', name],
        ['measure', join(walk, 'stills/day/6m.jpg'), '--chart', name],
        ['measure', join(walk, 'stills/day/6m.jpg'), '--reference', name, '--corners', '1,1 2,1 2,2 1,2'],
      ].map((args) => runCommand(...args)),
    )
    for (const run of typed) {
      expect(run.err).not.toContain('a fault of our own')
      expect(run.status).toBe(2)
    }
  },
  120_000,
)

test.each(['.inf', '-.inf', '.nan', '1e999', 'Infinity m', '1e999 m'])(
  'the number %s is refused at the door',
  async (number) => {
    const walk = await home.freshWalk(`number-${number}`)
    const text = await readFile(join(walk, 'walk.yaml'), 'utf8')
    const bad = [
      text.replace('4 m', number),
      text.replace('width: 600 mm', `width: ${number}`),
      text.replace('at: 9 m', `at: ${number}`),
      text.replace('width: 1280', `width: ${number}`),
    ]
    for (const changed of bad) {
      await put(walk, 'walk.yaml', changed)
      const run = await runCommand(...['measure', walk])
      expect(run.err, changed).toMatch(/^proofwalk: .*walk.yaml: /)
      expect(run.status).toBe(2)
    }
  },
  60_000,
)
