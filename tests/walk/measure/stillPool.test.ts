import { expect, test } from 'vitest'
import type { StillTask } from '../../../src/walk/stills/stillTask.js'
import { threadsWorth, workerCount } from '../../../src/walk/measure/stillPool.js'
import { stillRunner } from '../../../src/walk/measure/stillRunner.js'

test('no more threads run than there are stills, never fewer than one, and at most eight unasked', () => {
  expect(workerCount(4, 2)).toBe(2)
  expect(workerCount(4, 0)).toBe(1)
  expect(workerCount(12, 100)).toBe(12)
  expect(workerCount(null, 100)).toBeLessThanOrEqual(8)
})

test('another thread is started where nobody asked for it only if there is work for it', () => {
  const tasks = (kind: 'picked' | 'chart', count: number) =>
    Array.from({ length: count }, () => ({ subject: { kind } }) as StillTask)
  expect(threadsWorth(tasks('picked', 24), 2)).toBe(1)
  expect(threadsWorth(tasks('picked', 240), 2)).toBe(2)
  expect(threadsWorth(tasks('picked', 0), 8)).toBe(1)
  expect(threadsWorth([...tasks('picked', 3), ...tasks('chart', 1)], 8)).toBe(8)
})

test('a still that is not there is a result and no throw', async () => {
  const files = ['b.jpg', 'a.jpg', 'c.jpg']
  const tasks = files.map((file) => ({ path: `/no/such/folder/${file}`, file }) as unknown as StillTask)
  const runner = stillRunner(0, null)
  const results = await Promise.all(tasks.map((task) => runner.run(task)))
  await runner.close()
  expect(results.map((result) => (result.ok ? 'ok' : result.code))).toEqual(Array(3).fill('still-missing'))
})
