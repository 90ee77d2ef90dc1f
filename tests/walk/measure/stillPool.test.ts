import { expect, test } from 'vitest'
import type { StillTask } from '../../../src/walk/stills/stillTask.js'
import { runStillTasks, workerCount } from '../../../src/walk/measure/stillPool.js'

test('no more threads run than there are stills, never fewer than one, and at most eight unasked', () => {
  expect(workerCount(4, 2)).toBe(2)
  expect(workerCount(4, 0)).toBe(1)
  expect(workerCount(12, 100)).toBe(12)
  expect(workerCount(null, 100)).toBeLessThanOrEqual(8)
})

test('results come in the order of the tasks, each is counted, and a still that is not there is a result and no throw', async () => {
  const files = ['b.jpg', 'a.jpg', 'c.jpg']
  const tasks = files.map((file) => ({ path: `/no/such/folder/${file}`, file }) as unknown as StillTask)
  const counted: number[] = []
  const results = await runStillTasks(tasks, 1, (done) => counted.push(done))
  expect(results.map((result) => (result.ok ? 'ok' : result.code))).toEqual(Array(3).fill('still-missing'))
  expect(counted).toEqual([1, 2, 3])
})
