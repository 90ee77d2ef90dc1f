import { readFile } from 'node:fs/promises'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { resultsSchema } from '../../src/walk/schemas/resultsSchema.js'
import { runProofwalk } from './runProofwalk.js'
import { boardCorners, boardStill, put, putPicks } from './smallWalk.js'
import { commandsIn } from '../support/commandsIn.js'
import { temporaryHome } from './temporaryHome.js'

const home = temporaryHome()
const MARKS_M = [4, 6, 9]

const README = readFileSync(new URL('../../README.md', import.meta.url), 'utf8')
/** The commands of the README's first walk, in their order; after them it measures one still alone. */
const FIRST_WALK = commandsIn(
  /^## Your first walk\n(.*?)^## /ms.exec(README)![1]!.replace(/`proofwalk[^`]*`/g, ''),
)

test("a new user follows the README from new to sheet on three stills, and every step's Next line leads on", async () => {
  const cwd = home.path()
  const step = async (args: readonly string[]) => {
    const run = await runProofwalk(args, { cwd })
    expect(run.status, run.err).toBe(0)
    return { ...run, next: run.out.trimEnd().split('\n').at(-1) }
  }
  // stands for the exported still that the size is read from
  await put(cwd, 'export.jpg', await boardStill(9, 'jpeg', 9))
  const [make, plan, pick, measure, print] = FIRST_WALK
  const made = await step([
    ...make!,
    ...['--site', 'Net loft', '--date', '2026-03-14', '--still', 'export.jpg'],
    ...[
      '--carry',
      '600x400mm',
      '--marks',
      '4 m, 6 m, 9 m',
      '--lights',
      'day',
      '--promise',
      'observe at 9 m in day',
    ],
  ])
  expect(made.next).toBe('Next: proofwalk plan my-camera')
  const planned = await step(['plan', 'my-camera'])
  expect(planned.next).toBe(`Next: proofwalk ${plan!.join(' ')}`)
  await step(plan!)
  const dir = join(cwd, 'my-camera')
  expect((await readFile(join(dir, 'plan.pdf'))).subarray(0, 5).toString()).toBe('%PDF-')
  expect(await readFile(join(dir, 'walk.yaml'), 'utf8')).toMatch(/^ *image: \{ width: 1280, height: 720 \}/m)

  for (const mark of MARKS_M) await put(dir, `stills/day/${mark}m.jpg`, await boardStill(mark, 'jpeg', mark))
  const early = await runProofwalk(['measure', 'my-camera'], { cwd })
  expect([early.status, early.err]).toEqual([1, ''])
  expect(early.out).toContain(
    'stills/day/4m.jpg: has no corners yet: click them (proofwalk pick), or write under "stills" in picks.json: "stills/day/4m.jpg": {',
  )
  expect(early.out.trimEnd().split('\n').at(-1)).toBe(`Next: proofwalk ${pick!.join(' ')}`)

  // stands for the page, which tests/journeys/pick.test.ts opens
  expect(pick).toEqual(['pick', 'my-camera'])
  await putPicks(
    dir,
    MARKS_M.map((mark) => ({ file: `stills/day/${mark}m.jpg`, corners: boardCorners(mark) })),
  )
  const measured = await step(measure!)
  expect(measured.out).toMatch(/Observe +9 m +day +(board|every) +met/)
  expect(measured.next).toBe(`Next: proofwalk ${print!.join(' ')}`)
  const results = resultsSchema.parse(JSON.parse(await readFile(join(dir, 'results.json'), 'utf8')))
  expect(results.stills.map(({ distance }) => distance)).toEqual(MARKS_M)
  expect([results.failed, results.unassigned]).toEqual([[], []])

  const sheet = await step(print!)
  expect(sheet.err).toBe('')
  expect(sheet.out.split('\n')[0]).toBe(join('my-camera', 'sheet.pdf'))
  expect((await readFile(join(dir, 'sheet.pdf'))).subarray(0, 5).toString()).toBe('%PDF-')
})

test('new never overwrites a walk, and tells all that is wrong with its options at once', async () => {
  const dir = await home.freshWalk('there-already')
  const again = await runProofwalk(['new', dir, '--carry', 'plate-eu'])
  expect([again.status, again.err]).toEqual([
    2,
    expect.stringMatching(/walk\.yaml: exists and is not overwritten; /),
  ])
  const bad = await runProofwalk(['new', home.path('bad-new'), '--carry', 'plate-ue', '--marks', '4, 6 m'])
  expect(bad.status).toBe(2)
  expect(bad.err.trimEnd().split('\n')).toHaveLength(2)
})
