import { readdir, readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { temporaryWalk } from '../walk/temporaryWalk.js'
import { SHORT_WALK } from '../walk/walkText.js'
import { runCommand } from './recordingTerminal.js'

test.each(['measure', 'sheet'])(
  '%s tells every fault of walk.yaml in a line of its own and touches nothing',
  async (command) => {
    const text = SHORT_WALK.replace('site', 'sit').replace('plate-eu', 'plate-ue')
    const dir = await temporaryWalk({ 'walk.yaml': text, 'results.json': 'old', 'sheet.pdf': 'old' })
    const { out, err, status } = await runCommand(command, dir)
    expect([status, out]).toEqual([2, ''])
    const file = join(dir, 'walk.yaml')
    expect(err.trimEnd().split('\n')).toEqual([
      `proofwalk: ${file}: site: is missing; write for example site: North slipway`,
      `proofwalk: ${file}: sit (line 1): is not a known key; did you mean site?`,
      `proofwalk: ${file}: references.plate.preset (line 4): "plate-ue" is not a preset; did you mean plate-eu?`,
    ])
    expect((await readdir(dir)).sort()).toEqual(['results.json', 'sheet.pdf', 'walk.yaml'])
    expect(await readFile(join(dir, 'results.json'), 'utf8')).toBe('old')
    expect(await readFile(join(dir, 'sheet.pdf'), 'utf8')).toBe('old')
  },
)

test('measure tells a faulty picks.json and leaves the old results', async () => {
  const picks = '{"format":"proofwalk-picks/1","stills":{"stills/day/4m.jpg":{"sha256":"x"}}}'
  const dir = await temporaryWalk({ 'walk.yaml': SHORT_WALK, 'picks.json': picks, 'results.json': 'old' })
  const { err, status } = await runCommand('measure', dir)
  expect(status).toBe(2)
  expect(err).toContain('stills["stills/day/4m.jpg"].sha256: is not a SHA-256')
  expect(await readFile(join(dir, 'results.json'), 'utf8')).toBe('old')
})
