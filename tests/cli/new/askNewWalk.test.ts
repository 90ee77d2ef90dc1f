import { expect, test } from 'vitest'
import { askNewWalk } from '../../../src/cli/new/askNewWalk.js'
import { newWalkOf } from '../../../src/walk/new/newWalkOptions.js'
import type { Questions } from '../../../src/cli/new/questions.js'

/** Answers in order; a line that is faulty is asked again, as on a terminal. */
function answering(answers: string[]): { questions: Questions; asked: string[]; said: string[] } {
  const asked: string[] = []
  const said: string[] = []
  const next = (question: string) => {
    asked.push(question)
    const answer = answers.shift()
    if (answer === undefined) throw new Error(`no answer left for "${question}"`)
    return answer
  }
  const questions: Questions = {
    choose: (question, choices) => {
      const answer = next(question)
      const chosen = choices.find(({ value }) => value === answer)
      if (chosen === undefined) throw new Error(`"${answer}" is no choice of "${question}"`)
      return Promise.resolve(chosen.value)
    },
    line: (question, { ifEmpty, fault }) => {
      for (;;) {
        const typed = next(question)
        const meant = typed === '' ? ifEmpty : typed
        const why = meant === '' ? null : (fault?.(meant) ?? null)
        if (why === null) return Promise.resolve(meant)
        said.push(why)
      }
    },
    say: (text) => void said.push(text),
  }
  return { questions, asked, said }
}

const isStill = (file: string) => Promise.resolve(file === 'export.jpg' ? null : 'is not there')

test('asks in the order a fitter has it at hand, and again where an answer is faulty', async () => {
  const { questions, asked, said } = answering([
    ...['feet', 'gone.jpg', 'export.jpg', '400', '100 x 52', '4', '4 mm'],
    ...['both', 'plate-na', '2m', '', 'wheel', 'iec-62676-4-2014'],
    ...[
      'read a plate',
      '0 ft',
      '45 ft',
      'infrared',
      'notice movement',
      '',
      'day',
      'notice movement',
      "50'",
      'day',
      'nothing',
    ],
  ])
  const options = await askNewWalk(questions, {}, isStill)
  expect(options).toEqual({
    feet: true,
    still: 'export.jpg',
    fieldOfView: '100 x 52',
    focalLength: '4 mm',
    carry: ['plate-na', '24x16in'],
    measuredWith: 'wheel',
    grading: 'iec-62676-4-2014',
    promise: ['read a plate at 45 ft in infrared', 'notice movement at 50 ft in day'],
  })
  expect([...new Set(asked)]).toEqual([
    'Feet or metres?',
    'An exported still, to read its size from (Enter skips)',
    'From the data sheet: field of view in degrees, such as 100 x 52 (Enter skips)',
    'From the data sheet: focal length, such as 6.6 mm (Enter skips)',
    'What is carried from mark to mark?',
    'Which plate?',
    'Size of the board, width first',
    'How are the distances measured?',
    'Which edition was agreed?',
    'What must the camera do?',
    'At what distance?',
    'In which light?',
    'What else must it do?',
  ])
  expect(said).toContain('that is promised already')
  expect(said.join('\n')).toContain('gone.jpg: is not there')
  expect(said).toContain('"4" has no unit; write 4 mm')
  expect(said.join('\n')).toContain('identify, 250 px/m (76.2 px/ft) by IEC 62676-4:2014')
  const walk = newWalkOf('somewhere', options, { today: '2026-03-14', image: null })
  expect(walk.promises.map(({ grade, at, light }) => [grade, at, light])).toEqual([
    ['identify', '45 ft', 'infrared'],
    ['detect', '50 ft', 'day'],
  ])
})

test('Enter skips what need not be known, and what an option gives is not asked', async () => {
  const { questions, asked } = answering(['', '', '', 'staff', '', 'iec-62676-4-2025', 'nothing'])
  const options = await askNewWalk(questions, { metres: true, measuredWith: 'laser' }, isStill)
  expect(options).toEqual({
    metres: true,
    measuredWith: 'laser',
    grading: 'iec-62676-4-2025',
    carry: ['2 m'],
    promise: [],
  })
  expect(asked).toHaveLength(7)
})

test('a plate alone with a wish that takes detail is asked a board or the chart beside it, and told why', async () => {
  const asking = async (answers: string[], carry: string[], promise: string[]) => {
    const { questions, asked, said } = answering(['', '', '', 'iec-62676-4-2014', ...answers])
    const given = { metres: true, measuredWith: 'tape', carry, promise } as const
    return { carry: (await askNewWalk(questions, given, isStill)).carry, asked: asked.slice(4), said }
  }
  const plate = ['plate-eu']
  const night = ['read a plate at 12 m in infrared']
  const chart = await asking(['chart', 'A2'], plate, night)
  expect(chart.carry).toEqual(['plate-eu', 'chart A2'])
  expect(chart.asked).toEqual(['What is carried beside it?', 'On which paper?'])
  expect(chart.said.join()).toContain('not how much of them is detail. Carry a board or the chart')
  expect((await asking(['board', ''], plate, night)).carry).toEqual(['plate-eu', '600x400mm'])
  expect((await asking(['nothing'], plate, night)).carry).toEqual(plate)
  for (const [carried, wishes] of [
    [plate, ['notice movement at 20 m in day']],
    [plate, []],
    [['plate-eu', 'chart A2'], night],
  ] as const)
    expect((await asking([], [...carried], [...wishes])).asked).toEqual([])
  expect((await asking(['nothing'], plate, ['notice movement at 20 m in dark'])).carry).toEqual(plate)
})
