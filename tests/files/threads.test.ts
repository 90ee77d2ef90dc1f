import { afterEach, expect, test } from 'vitest'
import { ProofwalkError } from '../../src/errors.js'
import { startThreads, ThreadEnd, type Threads } from '../../src/files/threads.js'

const script = new URL('./troubledThread.mjs', import.meta.url)
const opened: Threads<string, string>[] = []

function troubled(threads: number, taskMs = 20_000): Threads<string, string> {
  const pool = startThreads<string, string>(script, { threads, taskMs, heapMb: 40 })
  opened.push(pool)
  return pool
}

afterEach(async () => {
  await Promise.all(opened.splice(0).map((pool) => pool.close()))
})

test.each([
  ['die', 'died'],
  ['throw', 'died'],
  ['eat', 'out-of-memory'],
])('a task that makes its thread %s costs itself alone', async (task, why) => {
  const pool = troubled(2)
  const results = await Promise.allSettled(['1', '2', task, '3', task, '4', '5'].map((one) => pool.run(one)))
  expect(
    results.map((one) => (one.status === 'fulfilled' ? one.value : (one.reason as ThreadEnd).why)),
  ).toEqual(['1', '2', why, '3', why, '4', '5'])
})

test.each(['hang', 'wait for ever'])(
  'a task that makes its thread %s is ended after its time',
  async (task) => {
    const pool = troubled(1, 600)
    const results = await Promise.allSettled([pool.run(task), pool.run('after')])
    expect(results[0]).toMatchObject({ status: 'rejected', reason: { why: 'took-too-long' } })
    expect(results[1]).toEqual({ status: 'fulfilled', value: 'after' })
  },
)

test('a fault keeps its class, code and place across the thread', async () => {
  const refused = troubled(1).run('refuse')
  await expect(refused).rejects.toBeInstanceOf(ProofwalkError)
  await expect(refused).rejects.toMatchObject({ code: 'refused', place: { file: 'a' }, exitStatus: 2 })
})

test('what a task tells meanwhile is heard, each by its own', async () => {
  const heard: unknown[] = []
  const pool = troubled(3)
  pool.warm()
  const tasks = Array.from({ length: 40 }, (_, index) => `${index}`)
  expect(await Promise.all(tasks.map((one) => pool.run(one, (told) => heard.push(told))))).toEqual(tasks)
  expect(heard.sort()).toEqual(tasks.map((one) => `doing ${one}`).sort())
})
