import { describe, expect, it } from 'vitest'
import { builtInGrading } from '../../../src/grade/gradings/builtInGradings.js'
import { gradeMeasured } from '../../../src/grade/gradings/gradeMeasured.js'
import { gradeStill } from '../../../src/grade/gradings/gradeStill.js'
import { stillOf, type StillParts } from '../stillOf.js'

const grading = builtInGrading('iec-62676-4-2014')!
const graded = (parts: StillParts, judge: 'detail' | 'pixels' = 'detail') =>
  gradeStill(stillOf(parts).measurement, grading, judge, 'day')
const clear = { k: 12, U: 2 }

describe('gradeStill', () => {
  it('grades by pixels from the density on target alone', () => {
    const still = { horizontal: 260, vertical: 300, cornersRel: 0.005, factor: 0.4 }
    expect(graded(still).gradeByPixels).toBe('identify')
    expect(graded({ ...still, vertical: 240 }).gradeByPixels).toBe('recognise')
  })

  it('grades by detail from the effective density, and by pixels where so judged', () => {
    const soft = { horizontal: 300, factor: 0.6, factorU: 0.02 }
    expect(graded(soft)).toMatchObject({ grade: 'recognise', gradeByPixels: 'identify' })
    expect(graded(soft, 'pixels')).toMatchObject({ grade: 'identify', gradeByPixels: 'identify' })
  })

  it('gives no grade where detail could not be measured, and still one by pixels', () => {
    expect(graded({ horizontal: 300, factor: null })).toMatchObject({
      grade: null,
      gradeByPixels: 'identify',
    })
    expect(graded({ horizontal: 300, factor: null }, 'pixels').grade).toBe('identify')
  })

  it('gives none where judged and no limit is reached', () => {
    expect(graded({ horizontal: 10 })).toMatchObject({ grade: 'none', gradeByPixels: 'none' })
  })

  it('asks for each grade that its element stands out: k - U at least 5', () => {
    const roseK = { recognise: clear, identify: { k: 6.9, U: 2 } }
    expect(graded({ horizontal: 300, roseK })).toMatchObject({ grade: 'recognise', usable: true })
    expect(graded({ horizontal: 300, roseK: { ...roseK, identify: { k: 7, U: 2 } } }).grade).toBe('identify')
    expect(graded({ horizontal: 300, roseK }, 'pixels').grade).toBe('recognise')
    expect(graded({ horizontal: 300, roseK }).gradeByPixels).toBe('identify')
  })

  it('takes the least k of the grading where it sets one', () => {
    const measurement = stillOf({ horizontal: 300, roseK: { identify: { k: 4, U: 0.5 } } }).measurement
    expect(gradeStill(measurement, { ...grading, leastRoseK: 3 }, 'detail', 'day').grade).toBe('identify')
    expect(gradeStill(measurement, grading, 'detail', 'day').grade).toBe('recognise')
  })

  it('blocks no grade by a k that could not be told, and leaves usable open where none could', () => {
    expect(graded({ horizontal: 300, roseK: { identify: null, recognise: null } })).toMatchObject({
      grade: 'identify',
      usable: null,
    })
    expect(graded({ horizontal: 300, tone: null })).toMatchObject({ grade: 'identify', usable: null })
  })

  it('treats a k of NaN as one that could not be told', () => {
    expect(graded({ horizontal: 300, roseK: { identify: { k: NaN, U: 1 } } })).toMatchObject({
      grade: 'identify',
      usable: null,
    })
  })

  it('says in plain words that a surface is too noisy', () => {
    const { usable, problems } = graded({ horizontal: 300, roseK: { identify: { k: 2.1, U: 0.06 } } })
    expect(usable).toBe(false)
    expect(problems).toEqual([
      { code: 'too-noisy', message: 'too noisy: a stroke stands out only 2.1 times, 5 needed' },
    ])
  })

  it('says in plain words that a surface is washed out', () => {
    const tone = { roseK: { identify: { k: 1.2, U: 0.5 } }, clippedBright: 0.83, michelson: 0.04 }
    expect(graded({ horizontal: 300, tone }).problems).toEqual([
      { code: 'washed-out', message: 'washed out: 83 % of it is pure white, contrast 4 %' },
    ])
  })

  it('says nothing where k straddles the least one, and leaves open whether it is usable', () => {
    const straddling = graded({ horizontal: 300, roseK: { identify: { k: 5, U: 1 } } })
    const between = graded({ horizontal: 300, roseK: { identify: { k: 2.1, U: 0.6 } } })
    expect(between).toMatchObject({ usable: null, problems: [], grade: 'recognise' })
    expect(straddling).toMatchObject({ usable: null, problems: [], grade: 'recognise' })
  })

  it('gives no grade to a surface on which no two levels were found', () => {
    const washedOut = { tone: null, problems: [{ code: 'washed-out', message: 'washed out' }] }
    expect(graded({ horizontal: 300, ...washedOut })).toMatchObject({ grade: 'none', usable: false })
    expect(graded({ horizontal: 300, factor: null, ...washedOut })).toMatchObject({
      grade: null,
      usable: false,
      gradeByPixels: 'identify',
    })
  })

  it('counts strokes and ground that cannot be told apart as unusable too', () => {
    const grey = {
      roseK: {},
      problems: [{ code: 'no-two-levels', message: 'strokes and ground cannot be told apart' }],
    }
    expect(graded({ horizontal: 300, ...grey })).toMatchObject({ grade: 'none', usable: false, problems: [] })
  })

  it('does not tell again what the measuring of tone has told', () => {
    const problems = [
      { code: 'too-noisy', message: 'too noisy: a stroke stands out only 2.1 times, 5 needed' },
    ]
    expect(graded({ horizontal: 300, roseK: { identify: { k: 2.1, U: 0.06 } }, problems }).problems).toEqual(
      [],
    )
  })
})

describe('gradeMeasured', () => {
  it('never gives a grade with detail above the grade by pixels', () => {
    const wide = { low: 100, high: 160 }
    const measured = {
      onTarget: wide,
      effectiveDensity: { low: 128, high: 132 },
      roseK: {},
      isBound: false,
      washedOut: false,
    }
    const grades = gradeMeasured(measured, builtInGrading('iec-62676-4-2014')!, 'detail')
    expect(grades).toMatchObject({ grade: 'observe', gradeByPixels: 'observe' })
  })
})
