import { describe, expect, it } from 'vitest'
import type { PromiseResult } from '../../../src/grade/judgement.js'
import {
  type JudgedReading,
  judgeReadPromise,
  type PixelsThere,
} from '../../../src/grade/promises/readPromise.js'
import { wilson } from '../../../src/trial/wilson.js'
import { figuresFor } from '../../../src/units/figures.js'

const PROMISE = { kind: 'read', read: 0.95, grade: null, distanceM: 12, light: 'day' } as const
const WITHOUT: PixelsThere = { byPixels: 'not shown', onOtherBasis: null, explains: null }
const reader = (name: string): JudgedReading['readers'][number] => ({
  reader: name,
  crops: 9,
  untold: 0,
  right: 60,
  asked: 63,
  share: 60 / 63,
  ...wilson(60, 63),
  steady: null,
})

/** What was read of letter cards at three marks; the interval of the share at 12 m is given. */
const reading = (low: number, high: number, given: Partial<JudgedReading> = {}): JudgedReading => ({
  light: 'day',
  reference: 'card',
  row: 'full',
  marks: [
    [8, 104],
    [12, 102],
    [16, 60],
  ].map(([distance, right]) => ({
    distance: distance!,
    right: right!,
    asked: 105,
    share: right! / 105,
    ...wilson(right!, 105),
  })),
  readers: ['Anna', 'Ben', 'Cleo'].map(reader),
  cards: 9,
  promised: [{ distance: 12, value: (low + high) / 2, low, high }],
  walkerRead: false,
  read95: null,
  ...given,
})
const judged = (readings: readonly JudgedReading[], given = {}, pixels = WITHOUT): PromiseResult =>
  judgeReadPromise(
    { ...PROMISE, ...given },
    { readings, toleranceM: 0.05, figures: figuresFor('metric') },
    () => pixels,
  )

describe('a promise that text is read', () => {
  it.each([
    [0.952, 0.975, 'met'],
    [0.95, 0.975, 'met'],
    [0.9499, 0.975, 'not shown'],
    [0.9, 0.95, 'not shown'],
    [0.9, 0.9499, 'not met'],
  ])('whose share lies from %d to %d is %s', (low, high, verdict) => {
    const result = judged([reading(low, high)])
    expect(result).toMatchObject({
      verdict,
      low,
      high,
      limit: 0.95,
      basis: 'reading',
      kind: 'read',
      grade: null,
      decidedBy: 'card',
    })
    expect(result.why).toContain('95 %')
  })

  it('prints no figure on the other side of the share that is promised', () => {
    expect(judged([reading(0.93, 0.96992)]).why).toMatch(/94\.996 % \(/)
  })

  it.each([
    ['one reader', { readers: [reader('Anna')] }, /1 reader from 9 texts/],
    [
      'one reader and one who began',
      { readers: [reader('Anna'), { ...reader('Ben'), crops: 4 }] },
      /1 reader from 9 texts/,
    ],
    ['one card', { cards: 1 }, /3 readers from 1 text, too few/],
  ])('is not shown by %s, whatever they read', (_, given, why) => {
    for (const share of [0.3, 0.97]) {
      const result = judged([reading(share - 0.01, share + 0.01, given)])
      expect(result.verdict).toBe('not shown')
      expect(result.why).toMatch(why)
    }
  })

  it('is not shown where nothing was read, in its light or at all', () => {
    expect(judged([])).toMatchObject({ verdict: 'not shown', value: null, decidedBy: null })
    expect(judged([reading(0.96, 0.98)], { light: 'dark' })).toMatchObject({
      why: 'nothing was read in dark',
      mend: expect.stringMatching(/^carry letter cards/),
    })
    expect(judged([reading(0.96, 0.98, { row: 'faint' })]).verdict).toBe('not shown')
    expect(judged([reading(0.96, 0.98)], { reference: 'plate' }).verdict).toBe('not shown')
  })

  it('is met only at or between what was read, and not met beyond it too', () => {
    const at = (distanceM: number, low: number, high: number): PromiseResult =>
      judged([reading(low, high, { promised: [{ distance: distanceM, value: high, low, high }] })], {
        distanceM,
      })
    expect(at(8, 0.96, 0.98).verdict).toBe('met')
    expect(at(16.2, 0.96, 0.98)).toMatchObject({
      verdict: 'not shown',
      why: expect.stringContaining('beyond 16 m'),
    })
    expect(at(16.2, 0.4, 0.6).verdict).toBe('not met')
    expect(at(7.9, 0.96, 0.98)).toMatchObject({
      verdict: 'not shown',
      why: expect.stringContaining('nearer than 8 m'),
    })
    expect(at(7.9, 0.4, 0.6).verdict).toBe('not shown')
  })

  it('is not shown where a nearer mark was read worse, or a farther one better', () => {
    const near = reading(0.96, 0.98)
    const glare = { ...near.marks[0]!, right: 40, share: 40 / 105, ...wilson(40, 105) }
    expect(judged([{ ...near, marks: [glare, ...near.marks.slice(1)] }])).toMatchObject({
      verdict: 'not shown',
      why: expect.stringContaining('38.1 % were at 8 m'),
    })
    const far = { ...near.marks[2]!, right: 105, share: 1, ...wilson(105, 105) }
    expect(judged([{ ...reading(0.8, 0.9), marks: [...near.marks.slice(0, 2), far] }]).verdict).toBe(
      'not shown',
    )
  })

  it('goes by the worst of what was read; too few of one leave another standing unless they speak against it', () => {
    const card = reading(0.96, 0.98)
    const plate = (low: number, high: number, cards: number): JudgedReading =>
      reading(low, high, { reference: 'plate', row: 'text', cards })
    expect(judged([card, plate(0.9, 0.94, 2)])).toMatchObject({ verdict: 'not met', decidedBy: 'plate' })
    expect(judged([card, plate(0.9, 0.99, 1)])).toMatchObject({ verdict: 'met', decidedBy: 'card' })
    expect(judged([card, plate(0.1, 0.3, 1)])).toMatchObject({ verdict: 'not shown', decidedBy: 'plate' })
    expect(judged([plate(0.96, 0.98, 1)])).toMatchObject({ verdict: 'not shown', decidedBy: 'plate' })
  })

  it('says where who walked knew the text', () => {
    expect(judged([reading(0.96, 0.98, { row: 'text' })]).why).toMatch(/Who walked knew the text/)
    expect(judged([reading(0.96, 0.98, { walkerRead: true })]).why).toMatch(
      /Who walked was among the readers/,
    )
    expect(judged([reading(0.96, 0.98)]).why).not.toMatch(/weaker/)
  })

  it('lets pixels explain and not decide', () => {
    const density = { value: 100, low: 98, high: 102 }
    const result = judged(
      [reading(0.96, 0.98)],
      {},
      {
        byPixels: 'not met',
        onOtherBasis: density,
        explains: 'Recognise there, which explains it: not met by pixels',
      },
    )
    expect(result).toMatchObject({ verdict: 'met', byPixels: 'not met', onOtherBasis: density })
    expect(result.why).toMatch(/Recognise there/)
  })
})
