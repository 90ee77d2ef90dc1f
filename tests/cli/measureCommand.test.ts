import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { runProgram } from '../../src/cli/runProgram.js'
import { makeSmallWalk } from '../journeys/smallWalk.js'
import { temporaryWalk } from '../walk/temporaryWalk.js'
import { runCommand } from './recordingTerminal.js'

test('measure and sheet tell nothing on standard error where it is no terminal', async () => {
  const dir = await temporaryWalk({})
  await makeSmallWalk(dir)
  const measured = await runCommand('measure', dir, '--workers', '1')
  expect([measured.status, measured.err]).toEqual([0, ''])
  const sheet = await runCommand('sheet', dir, '--out', join(dir, 'signed.pdf'))
  expect([sheet.status, sheet.err]).toEqual([0, ''])
  expect(sheet.out.split('\n')[0]).toBe(join(dir, 'signed.pdf'))
  expect((await readFile(join(dir, 'signed.pdf'))).subarray(0, 5).toString()).toBe('%PDF-')
})

test('measure counts its stills on a terminal, in one line that goes away, and keeps standard output clean', async () => {
  const dir = await temporaryWalk({})
  await makeSmallWalk(dir)
  let out = ''
  let err = ''
  await runProgram(['measure', dir, '--workers', '1', '--json'], {
    out: (text) => void (out += text),
    err: (text) => void (err += text),
    interactive: false,
    showsProgress: true,
    styled: false,
    columns: 100,
    setStatus: () => undefined,
  })
  expect(err).toMatch(/measuring 1 of 3.*\r.*measuring 2 of 3.*\r.*measuring 3 of 3\r[^\r]*$/s)
  expect(err).not.toContain('\n')
  // what is left of the line once it was erased
  expect(err.endsWith('\r\u001b[2K')).toBe(true)
  expect(JSON.parse(out)).toEqual(JSON.parse(await readFile(join(dir, 'results.json'), 'utf8')))
})
