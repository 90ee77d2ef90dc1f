import { describe, expect, it } from 'vitest'
import type { JudgedStill, MarkResult, RangeResult } from '../../../src/grade/judgement.js'
import { builtInGradings } from '../../../src/grade/gradings/builtInGradings.js'
import { readingAgainstDensity } from '../../../src/grade/promises/readingAgainstDensity.js'
import { readingReached } from '../../../src/grade/promises/readingReached.js'
import { figuresFor } from '../../../src/units/figures.js'

const { grading } = builtInGradings[0]!
const figure = (value: number) => ({ value, low: value, high: value })
const marks = [6, 12, 24].map((distance) => ({
  light: 'day',
  reference: 'card',
  distance,
  leftOut: false,
  density: figure(1200 / distance),
  effectiveDensity: figure(600 / distance),
  resolved: figure(240 / distance),
})) as unknown as MarkResult[]
const stills = marks.map(({ distance }) => ({
  light: 'day',
  reference: 'card',
  distanceM: distance,
  measurement: { tone: { roseK: { recognise: { k: 4320 / distance ** 2, U: 1 } } } },
})) as unknown as JudgedStill[]
const read = (distance: number, low: number, high: number) => ({
  light: 'day',
  reference: 'card',
  row: 'full' as const,
  read95: { distance, low, high },
})

describe('what was measured where 95 % are read', () => {
  it('lies between the marks, with the interval of the distance', () => {
    const { density, effectiveDensity, resolved, k } = readingReached(
      read(10, 8, 15),
      marks,
      stills,
      grading,
    )!
    expect(density!.value).toBeCloseTo(120, 9)
    expect([density!.low, density!.high].map(Math.round)).toEqual([80, 150])
    expect(effectiveDensity!.value).toBeCloseTo(60, 9)
    expect(resolved!.value).toBeCloseTo(24, 9)
    expect(k!.value).toBeCloseTo(43.2, 9)
  })

  it('is that of the last mark beyond them, and none where the distance is not known', () => {
    expect(readingReached(read(23, 20, 40), marks, stills, grading)!.density!.low).toBeCloseTo(50, 9)
    expect(readingReached(read(7, 3, 8), marks, stills, grading)!.density!.high).toBeCloseTo(200, 9)
    expect(readingReached({ ...read(7, 3, 8), read95: null }, marks, stills, grading)).toBeNull()
    expect(readingReached(read(10, 8, 15), marks, [], grading)!.k).toBeNull()
  })
})

describe('density and readers', () => {
  const ranges = (low: number | null, high: number | null): RangeResult[] => [
    {
      light: 'day',
      reference: 'card',
      grade: 'identify',
      basis: 'detail',
      from: null,
      distance: null,
      low,
      high,
      kind: 'bracketed',
    },
  ]
  const found = (at: readonly [number, number, number], low: number | null, high: number | null) =>
    readingAgainstDensity(
      [{ ...read(...at), marks: [], readers: [], cards: 9, promised: [], walkerRead: false }],
      ranges(low, high),
      grading,
      'detail',
      figuresFor('metric'),
    ).map(({ message }) => message)

  it('are said to disagree where their intervals lie apart, and only there', () => {
    expect(found([7, 6, 8], 9, 12)).toEqual([expect.stringContaining('but readers read 95 % only to 7')])
    expect(found([17, 15, 19], 9, 12)).toEqual([expect.stringContaining('ends by 12 m')])
    expect(found([8, 6, 9], 9, 12)).toEqual([])
    expect(found([17, 15, 19], 9, null)).toEqual([])
    expect(found([7, 6, 8], null, 12)).toEqual([])
  })
})
