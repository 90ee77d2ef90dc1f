import { describe, expect, it } from 'vitest'
import { parseNewPromise, promisedBy, promisedOnce } from '../../../src/walk/new/newPromise.js'
import { newWalkOf } from '../../../src/walk/new/newWalkOptions.js'
import { newWalkText } from '../../../src/walk/new/newWalk.js'

const by = promisedBy('iec-62676-4-2014', 'metric')

describe('a promise that text is read, as it is typed', () => {
  it.each([
    ['read 95 % at 12 m in day', { read: '95 %', grade: null, task: null, at: '12 m', light: 'day' }],
    ['read to 90% at 12 m, day', { read: '90 %', grade: null, task: null }],
    ['read a plate to 95 % at 40 ft in day', { read: '95 %', grade: 'identify', task: 'read a plate' }],
    ['Read a plate 92,5 % at 12 m in day', { read: '92.5 %', grade: 'identify' }],
  ])('%s', (text, wanted) => {
    expect(parseNewPromise(text, by)).toMatchObject({ ok: true, value: wanted })
  })

  it.each(['read 100 % at 12 m in day', 'read a plate to 30 % at 12 m in day'])('is refused: %s', (text) => {
    expect(parseNewPromise(text, by)).toMatchObject({
      ok: false,
      code: 'bad-promise',
      message: expect.stringContaining('50 to 97 %'),
    })
  })

  it('is another than the grade of the same task', () => {
    const promises = ['read a plate at 12 m in day', 'read a plate to 95 % at 12 m in day'].flatMap(
      (text) => {
        const read = parseNewPromise(text, by)
        return read.ok ? [read.value] : []
      },
    )
    expect(promisedOnce([...promises, ...promises])).toHaveLength(2)
  })

  it('stands in walk.yaml as walk.yaml has it, and on whatever is read', () => {
    const options = {
      carry: ['plate-eu', '600x400mm'],
      promise: ['read a plate to 95 % at 12 m in day'],
      lights: 'day',
    }
    const walk = newWalkOf('gate', options, { today: '2026-03-14', image: null })
    expect(newWalkText(walk)).toContain(
      '  - { task: read a plate, read: 95 %, grade: identify, at: 12 m, light: day }\n',
    )
  })
})
