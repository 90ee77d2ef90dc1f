import { describe, expect, it } from 'vitest'
import { builtInGrading } from '../../../src/grade/gradings/builtInGradings.js'
import { decide } from '../../../src/grade/gradings/decide.js'
import { gradeFromDensity } from '../../../src/grade/gradings/gradeFromDensity.js'

const grading = builtInGrading('iec-62676-4-2014')!

describe('decide', () => {
  it('meets a limit its low end reaches, exactly too', () => {
    expect(decide({ low: 126, high: 131 }, 125)).toBe('met')
    expect(decide({ low: 125, high: 131 }, 125)).toBe('met')
    expect(decide({ low: 124.999999, high: 131 }, 125)).toBe('not shown')
  })

  it('fails a limit its high end stays under, and is undecided where it touches', () => {
    expect(decide({ low: 110, high: 124.999999 }, 125)).toBe('not met')
    expect(decide({ low: 110, high: 125 }, 125)).toBe('not shown')
  })

  it('decides a zero interval and infinite ends by the same rule', () => {
    expect(decide({ low: 0, high: 0 }, 0)).toBe('met')
    expect(decide({ low: 0, high: 0 }, 12.5)).toBe('not met')
    expect(decide({ low: 0, high: Infinity }, 12.5)).toBe('not shown')
    expect(decide({ low: Infinity, high: Infinity }, 12.5)).toBe('met')
    expect(decide({ low: -Infinity, high: -Infinity }, 12.5)).toBe('not met')
    expect(decide({ low: -Infinity, high: Infinity }, 12.5)).toBe('not shown')
  })

  it('never decides on NaN, wherever it stands', () => {
    expect(decide({ low: NaN, high: NaN }, 125)).toBe('not shown')
    expect(decide({ low: 200, high: NaN }, 125)).toBe('not shown')
    expect(decide({ low: NaN, high: 10 }, 125)).toBe('not shown')
    expect(decide({ low: 10, high: 20 }, NaN)).toBe('not shown')
  })

  it('never decides on crossed ends', () => {
    expect(decide({ low: 200, high: 100 }, 50)).toBe('not shown')
    expect(decide({ low: 200, high: 100 }, 500)).toBe('not shown')
  })
})

describe('gradeFromDensity', () => {
  it('gives the highest grade whose limit the low end reaches', () => {
    expect(gradeFromDensity({ low: 62.5, high: 64 }, grading)).toBe('observe')
    expect(gradeFromDensity({ low: 62.4, high: 64 }, grading)).toBe('detect')
    expect(gradeFromDensity({ low: 5000, high: 5100 }, grading)).toBe('inspect')
  })

  it('gives none where judged and no limit is reached', () => {
    expect(gradeFromDensity({ low: 12.4, high: 13 }, grading)).toBe('none')
    expect(gradeFromDensity({ low: NaN, high: 13 }, grading)).toBe('none')
  })

  it('passes over a grade that fails for another reason', () => {
    expect(gradeFromDensity({ low: 260, high: 270 }, grading, (grade) => grade.id !== 'identify')).toBe(
      'recognise',
    )
  })
})
