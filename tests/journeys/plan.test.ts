import { access, readFile, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { runCommand } from '../cli/recordingTerminal.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()

test('a new user plans a walk before going outside: flags, table, JSON, and a page to take along', async () => {
  const folder = home.path('planned')
  const made = await runCommand(
    ...['new', folder, '--site', 'North slipway', '--carry', '600x400mm'],
    ...['--field-of-view', '100x52', '--promise', 'recognise at 16 m in day'],
  )
  expect(made.err).toBe('')
  const yaml = await readFile(join(folder, 'walk.yaml'), 'utf8')
  await writeFile(
    join(folder, 'walk.yaml'),
    yaml.replace(/^camera:\n/m, 'camera:\n  image: { width: 3840, height: 2160 }\n'),
  )
  const table = await runCommand('plan', folder)
  expect(table.err).toBe('')
  expect(table.status).toBe(0)
  expect(table.out).toMatch(/the data sheet's 100 by 52 degrees belong to a lens that bends/)
  expect(table.out).not.toContain('contradiction of')
  expect(table.out).toMatch(/^ +16 m .* promised: Recognise, day$/m)
  expect(table.out).toMatch(/Missing in walk\.yaml\n.*camera\.mountHeight/)
  const pdf = join(folder, 'plan.pdf')
  expect(table.out.trimEnd().split('\n').at(-1)).toBe(`Next: proofwalk plan ${folder} --pdf ${pdf}`)

  const json = await runCommand('plan', folder, '--json')
  const read = JSON.parse(json.out) as { lens: { p: number }; tape: number[]; paper: string }
  expect(read.lens.p).toBeLessThan(-0.5)
  expect(read.tape).toContain(16)
  expect(json.out.trimStart().startsWith('{') && json.out.trimEnd().endsWith('}')).toBe(true)

  const printed = await runCommand('plan', folder, '--pdf', pdf, '--paper', 'Letter')
  expect(printed.status).toBe(0)
  expect((await readFile(pdf)).subarray(0, 5).toString('latin1')).toBe('%PDF-')
  expect(printed.out.trimEnd().split('\n').at(-1)).toMatch(/^Next: (xdg-open|open|start) /)
  await expect(access(join(folder, 'results.json'))).rejects.toThrow()
})

test('a plan never writes over what is not a PDF, and tells a folder that is no walk', async () => {
  const folder = await home.freshWalk('careful')
  const before = await readFile(join(folder, 'walk.yaml'), 'utf8')
  const run = await runCommand('plan', folder, '--pdf', join(folder, 'walk.yaml'))
  expect(run.status).toBe(2)
  expect(run.err).toMatch(/walk\.yaml: exists, is not a PDF.*name another file with --pdf/)
  expect(await readFile(join(folder, 'walk.yaml'), 'utf8')).toBe(before)
  const none = await runCommand('plan', home.path('nowhere'))
  expect(none.status).toBe(2)
  expect(none.err).toMatch(/nowhere: is not there/)
})
