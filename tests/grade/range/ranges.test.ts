import { describe, expect, it } from 'vitest'
import { builtInGrading } from '../../../src/grade/gradings/builtInGradings.js'
import { combineRepeats } from '../../../src/grade/marks/combineRepeats.js'
import { fitRange } from '../../../src/grade/range/fitRange.js'
import type { RangeResult } from '../../../src/grade/judgement.js'
import { ranges } from '../../../src/grade/range/ranges.js'
import { expectNear } from '../../nearly.js'
import { stillOf, type StillParts } from '../stillOf.js'

const grading = builtInGrading('iec-62676-4-2014')!
const MARKS = [4, 6, 9, 12, 16, 20]

function rangesOf(parts: readonly StillParts[]): (grade: string, basis: 'pixels' | 'detail') => RangeResult {
  const marks = combineRepeats(parts.map(stillOf))
  const fit = fitRange(marks, { distanceToleranceM: 0.05, lensKnown: true })
  const all = ranges({ light: 'day', reference: 'board', marks, fit: fit.ok ? fit.value : null }, grading)
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

  it('are none under three marks', () => {
    const range = rangesOf([4, 6].map(sharp))
    expect(range('recognise', 'pixels')).toMatchObject({
      kind: 'none',
      distance: null,
      low: null,
      high: null,
    })
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

  it('are extrapolated where all marks hold it, and none where no mark does', () => {
    const range = rangesOf(MARKS.map((d, i) => soft(d, 1 - 0.1 * i)))
    expect(range('monitor', 'detail')).toMatchObject({ kind: 'extrapolated', low: 20, high: null })
    expect(range('inspect', 'detail')).toMatchObject({ kind: 'none', low: null, high: 4 })
  })

  it('start where the near marks stop failing', () => {
    const glare = { k: 1, U: 0.5 }
    const clear = { k: 20, U: 2 }
    const range = rangesOf(MARKS.map((d) => ({ distanceM: d, roseK: { recognise: d < 9 ? glare : clear } })))
    expect(range('recognise', 'detail')).toMatchObject({ kind: 'bracketed', from: 9, low: 12, high: 20 })
  })

  it('are none and open where detail could not be measured', () => {
    const range = rangesOf(MARKS.map((d) => ({ distanceM: d, factor: null })))
    expect(range('recognise', 'detail')).toMatchObject({ kind: 'none', low: null, high: null, from: null })
  })

  it('count a still without two levels as failing', () => {
    const washedOut = { tone: null, factor: null, problems: [{ code: 'washed-out', message: 'washed out' }] }
    const range = rangesOf(MARKS.map((d) => (d === 4 ? { distanceM: d, ...washedOut } : sharp(d))))
    expect(range('observe', 'detail')).toMatchObject({ from: 6, low: 20, kind: 'extrapolated' })
  })

  it('leave a suspect mark out', () => {
    const parts = MARKS.map((d, i) => ({ ...soft(d, 1 - 0.02 * i), horizontal: 2000 / (d === 6 ? 12 : d) }))
    expect(rangesOf(parts)('identify', 'detail')).toMatchObject({ kind: 'bracketed', low: 4, high: 9 })
  })
})
