import { describe, expect, it } from 'vitest'
import { builtInGrading } from '../../../src/grade/gradings/builtInGradings.js'
import { combineRepeats } from '../../../src/grade/marks/combineRepeats.js'
import { fitOfMarks } from '../fitOfMarks.js'
import type { RangeResult } from '../../../src/grade/judgement.js'
import { ranges } from '../../../src/grade/range/ranges.js'
import { expectNear } from '../../nearly.js'
import { stillOf, type StillParts } from '../stillOf.js'

const grading = builtInGrading('iec-62676-4-2014')!
const MARKS = [4, 6, 9, 12, 16, 20]

function rangesOf(parts: readonly StillParts[]): (grade: string, basis: 'pixels' | 'detail') => RangeResult {
  const marks = combineRepeats(parts.map(stillOf))
  const fit = fitOfMarks(marks, { distanceToleranceM: 0.05, lensKnown: true })
  const all = ranges({ light: 'day', reference: 'board', marks, fit }, grading)
  return (grade, basis) => all.find((range) => range.grade === grade && range.basis === basis)!
}
const sharp = (distanceM: number): StillParts => ({ distanceM })
const soft = (distanceM: number, factor: number): StillParts => ({ distanceM, factor, factorU: 0.01 })

describe('ranges by pixels', () => {
  it('are fitted within the marks and extrapolated beyond the farthest', () => {
    const range = rangesOf(MARKS.map(sharp))
    expect(range('recognise', 'pixels').kind).toBe('fitted')
    expectNear(range('recognise', 'pixels').distance!, 16, { rel: 1e-6 })
    expect(range('observe', 'pixels').kind).toBe('extrapolated')
    expectNear(range('observe', 'pixels').distance!, 32, { rel: 1e-6 })
  })

  it('show under three marks what the marks show, and say so', () => {
    const range = rangesOf([4, 6].map(sharp))
    expect(range('recognise', 'pixels')).toMatchObject({
      kind: 'too-few',
      distance: null,
      low: 6,
      high: null,
    })
    expect(range('recognise', 'detail')).toMatchObject({
      kind: 'too-few',
      distance: null,
      low: 6,
      high: null,
    })
    expect(range('identify', 'pixels')).toMatchObject({ kind: 'too-few', low: 6 })
    expect(range('inspect', 'pixels')).toMatchObject({ kind: 'too-few', low: null, high: 4 })
  })

  it('are stated to twice the farthest mark and no farther', () => {
    const range = rangesOf(MARKS.map(sharp))
    expect(range('monitor', 'pixels')).toMatchObject({
      kind: 'extrapolated',
      distance: null,
      low: 40,
      high: null,
    })
  })

  it('are none where no mark reaches the grade, though a distance before them would', () => {
    const range = rangesOf(MARKS.map((distanceM) => ({ distanceM, horizontal: 990 / distanceM })))
    expect(range('identify', 'pixels')).toMatchObject({ kind: 'none', distance: null, low: null, high: 4 })
  })

  it('take distances along the ground back to how they were taped', () => {
    const dropM = 3
    const parts = MARKS.map((distanceM) => {
      const lineOfSightM = Math.hypot(distanceM, dropM)
      return { distanceM, lineOfSightM, horizontal: 2000 / lineOfSightM }
    })
    expectNear(rangesOf(parts)('recognise', 'pixels').distance!, Math.sqrt(16 ** 2 - dropM ** 2), {
      rel: 1e-6,
    })
  })
})

describe('ranges with detail', () => {
  it('are fitted where all marks agree on one share', () => {
    const range = rangesOf(MARKS.map((d) => soft(d, 0.5)))
    const detail = range('recognise', 'detail')
    expect(detail.kind).toBe('fitted')
    expectNear(detail.distance!, 8, { rel: 1e-3 }, 'half the pixels, half as far')
    const byPixels = range('identify', 'pixels')
    const width = (each: RangeResult) => (each.high! - each.low!) / each.distance!
    expect(width(detail)).toBeGreaterThan(width(byPixels))
  })

  it('are bracketed where the shares differ: between the last that holds and the first that fails', () => {
    const range = rangesOf(MARKS.map((d, i) => soft(d, 1 - 0.1 * i)))
    expect(range('recognise', 'detail')).toMatchObject({
      kind: 'bracketed',
      from: null,
      distance: null,
      low: 9,
      high: 12,
    })
  })

  it('are open where all marks hold it, never beyond them, and none where no mark does', () => {
    const range = rangesOf(MARKS.map((d, i) => soft(d, 1 - 0.1 * i)))
    expect(range('monitor', 'detail')).toMatchObject({ kind: 'bracketed', low: 20, high: null })
    expect(range('inspect', 'detail')).toMatchObject({ kind: 'none', low: null, high: 4 })
    const alike = rangesOf(MARKS.map((d) => soft(d, 0.9)))
    expect(alike('monitor', 'detail')).toMatchObject({
      kind: 'bracketed',
      distance: null,
      low: 20,
      high: null,
    })
    expect(alike('observe', 'detail')).toMatchObject({
      kind: 'bracketed',
      distance: null,
      low: 20,
      high: null,
    })
  })

  it('start where the near marks stop failing', () => {
    const glare = { k: 1, U: 0.5 }
    const clear = { k: 20, U: 2 }
    const range = rangesOf(MARKS.map((d) => ({ distanceM: d, roseK: { recognise: d < 9 ? glare : clear } })))
    expect(range('recognise', 'detail')).toMatchObject({ kind: 'bracketed', from: 9, low: 12, high: 20 })
  })

  it('are none and open where detail could not be measured', () => {
    const range = rangesOf(MARKS.map((d) => ({ distanceM: d, factor: null })))
    expect(range('observe', 'detail')).toMatchObject({ kind: 'none', low: null, high: null, from: null })
    // At 20 m its pixels do not suffice, so with detail they do not either.
    expect(range('recognise', 'detail')).toMatchObject({ kind: 'none', low: null, high: 20, from: null })
  })

  it('count a still without two levels as failing', () => {
    const washedOut = { tone: null, factor: null, problems: [{ code: 'washed-out', message: 'washed out' }] }
    const range = rangesOf(MARKS.map((d) => (d === 4 ? { distanceM: d, ...washedOut } : sharp(d))))
    expect(range('observe', 'detail')).toMatchObject({ from: 6, low: 20, kind: 'bracketed' })
  })

  it('leave a suspect mark out', () => {
    const parts = MARKS.map((d, i) => ({ ...soft(d, 1 - 0.02 * i), horizontal: 2000 / (d === 6 ? 12 : d) }))
    expect(rangesOf(parts)('identify', 'detail')).toMatchObject({ kind: 'bracketed', low: 4, high: 9 })
  })
})
