// A thread of tests/files/threads.test.ts: what it is told to do, it does. Plain JavaScript, for threads start without the tests' loader.
import { parentPort } from 'node:worker_threads'

parentPort.on('message', async (task) => {
  if (task === 'die') process.exit(7)
  if (task === 'throw')
    setImmediate(() => {
      throw new TypeError('outside of any task')
    })
  if (task === 'hang') for (;;);
  if (task === 'wait for ever' || task === 'throw') return
  if (task === 'eat') {
    const eaten = []
    for (;;) eaten.push(Array.from({ length: 1e5 }, (_, index) => `${index}`))
  }
  if (task === 'refuse')
    return parentPort.postMessage({
      kind: 'fault',
      value: { code: 'refused', message: 'no', place: { file: 'a' }, exitStatus: 2 },
    })
  parentPort.postMessage({ kind: 'told', value: `doing ${task}` })
  parentPort.postMessage({ kind: 'result', value: task })
})
