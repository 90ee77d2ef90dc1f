import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { expect, test, vi } from 'vitest'
import { walkSheet } from '../../src/sheet/acceptance/walkSheet.js'
import { verifySheet } from '../../src/sheet/verify/verifySheet.js'
import * as judging from '../../src/walk/measure/judgeMeasured.js'
import { readWalk } from '../../src/walk/read/readWalk.js'
import type { WalkResults } from '../../src/walk/schemas/resultsSchema.js'

vi.mock('../../src/walk/measure/judgeMeasured.js', { spy: true })

const DIR = fileURLToPath(new URL('../../fixtures/walks/two-marks', import.meta.url))

test('a sheet whose results were judged again beside it is not judged again itself, another one is; both say the same', async () => {
  const results = await readFile(join(DIR, 'results.json'))
  const walk = await readWalk(DIR)
  const contents = JSON.parse(results.toString('utf8')) as WalkResults
  const sheet = await walkSheet(walk, contents, { paper: 'A4', maskPlates: false })
  vi.mocked(judging.judgeMeasured).mockClear()
  const beside = await verifySheet(sheet, 'sheet.pdf', results)
  expect(judging.judgeMeasured).not.toHaveBeenCalled()
  const others = Buffer.from(`${results.toString('utf8')} `)
  const alone = await verifySheet(sheet, 'sheet.pdf', others)
  expect(judging.judgeMeasured).toHaveBeenCalledOnce()
  expect(alone.checks).toEqual(beside.checks)
  expect(beside.checks.every(({ matches }) => matches)).toBe(true)
})
