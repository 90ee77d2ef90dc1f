import { describe, expect, it } from 'vitest'
import { builtInGrading } from '../../src/grade/gradings/builtInGradings.js'
import { gradeStill } from '../../src/grade/gradings/gradeStill.js'
import { apartResult } from '../../src/grade/markResult.js'
import { combineRepeats } from '../../src/grade/marks/combineRepeats.js'
import { lendDetail } from '../../src/grade/marks/lendDetail.js'
import { expectNear } from '../nearly.js'
import { stillOf, type StillParts } from './stillOf.js'

const grading = builtInGrading('iec-62676-4-2014')!
const k = (value: number) => ({ k: value, U: 0.2, least: 2.2 })
const CLEAR = { recognise: k(9), identify: k(4) }
const graded = (parts: StillParts) => gradeStill(stillOf(parts).measurement, grading, 'detail', 'infrared')

describe('a still whose strips were read', () => {
  // A w of 0.2 for a stroke of two pixels at the limit: 12.5 cycles per metre for 125 px/m, 25 for 250.
  it('is graded by A, whatever its strong edges show', () => {
    const still = { horizontal: 300, factor: 1 }
    expect(graded({ ...still, strip: { a: 26, aU: 0.5, k: CLEAR } }).grade).toBe('identify')
    expect(graded({ ...still, strip: { a: 24, aU: 0.5, k: CLEAR } }).grade).toBe('recognise')
    expect(graded({ ...still, strip: { a: 26, aU: 2, k: CLEAR } }).grade).toBe('recognise')
    expect(graded({ ...still, factor: 0.3, strip: { a: 26, aU: 0.5, k: CLEAR } }).grade).toBe('identify')
    expect(graded({ ...still, factor: null, strip: { a: 26, aU: 0.5, k: CLEAR } }).grade).toBe('identify')
    expect(graded({ ...still, strip: { a: -1, aU: 3, k: CLEAR } }).grade).toBe('none')
  })

  it('is graded by k of its strips against 2.2, not by that of its own two levels', () => {
    const still = { horizontal: 300, strip: { a: 60, aU: 2, k: CLEAR } }
    expect(graded({ ...still, roseK: { identify: { k: 1, U: 0.1 } } }).grade).toBe('identify')
    const faint = { ...CLEAR, identify: k(2.3) }
    expect(graded({ ...still, strip: { ...still.strip, k: faint } })).toMatchObject({
      grade: 'recognise',
      usable: true,
    })
    const lost = { recognise: k(1.5), identify: k(0.8) }
    const { usable, problems } = graded({
      ...still,
      roseK: { identify: { k: 30, U: 1 } },
      strip: { ...still.strip, k: lost },
    })
    expect(usable).toBe(false)
    expect(problems[0]!.message).toBe('too noisy: a stroke stands out only 1.5 times, 2.2 needed')
  })

  it('never stands above its grade by pixels', () => {
    const still = graded({ horizontal: 130, strip: { a: 60, aU: 2, k: CLEAR } })
    expect(still).toMatchObject({ grade: 'recognise', gradeByPixels: 'recognise' })
    const { effectiveDensity, density } = stillOf({
      horizontal: 130,
      strip: { a: 60, aU: 2, k: CLEAR },
    }).measurement
    expectNear(effectiveDensity!.value, density.onTarget, { abs: 1e-9 })
  })

  it('speaks alone for its mark, and lends what it shows to a plate there', () => {
    const place = { distanceM: 10, horizontal: 200 }
    const strip = { a: 10, aU: 1, k: CLEAR }
    const edges = stillOf({ ...place, file: 'b', factor: 1, f10: 0.4 })
    const [mark] = combineRepeats([stillOf({ ...place, file: 'a', strip }), edges])
    expectNear(mark!.factor!.value, 0.5, { abs: 1e-9 })
    expect(mark!.roseK).toEqual(CLEAR)
    const plate = combineRepeats([stillOf({ ...place, reference: 'plate', factor: null })])
    const lent = lendDetail([mark!, ...plate], { fullDetailAt: 0.4, toleranceM: 0.05 })
    expectNear(lent[1]!.factor!.value, 0.5, { abs: 0.01 })
  })

  it('shows as its finest stroke what the strips left, not what strong edges would', () => {
    // Half of 200 px/m count, at 0.4 cycles a pixel.
    const strokeAt = (parts: StillParts) => {
      const [mark] = combineRepeats([stillOf({ horizontal: 200, f10: 0.5, ...parts })])
      return apartResult(mark!, grading, 'detail').resolved!.value
    }
    expectNear(strokeAt({}), 100, { abs: 1e-9 })
    expectNear(strokeAt({ strip: { a: 10, aU: 1, k: CLEAR } }), 40, { abs: 1e-9 })
  })

  it('is pooled with the others of its mark, and lends what they know together', () => {
    // Pieces whose scatter is each still's own: of the two of one mark it cancels out.
    const still = (file: string, reference: string, sign: number) => {
      const pieces = [1, -1, 1, -1, 1, -1, 1, -1].map((one) => ({ a: 10 + sign * one, k: {} }))
      return stillOf({ file, reference, horizontal: 200, strip: { a: 10, aU: 6.3, k: {}, pieces } })
    }
    const alone = combineRepeats([still('a', 'board', 1)])[0]!
    const [mark] = combineRepeats([still('a', 'board', 1), still('b', 'board', -1)])
    expectNear(alone.factor!.U, 0.5 * 0.63, { abs: 1e-9 })
    expectNear(mark!.factor!.value, 0.5, { abs: 1e-9 })
    expect(mark!.factor!.U).toBeLessThan(0.2 * alone.factor!.U)
    const plate = combineRepeats([stillOf({ horizontal: 200, reference: 'plate', factor: null })])
    const lentBy = (one: typeof alone) =>
      lendDetail([one, ...plate], { fullDetailAt: 0.4, toleranceM: 0.05 })[1]!.factor!.U
    expect(lentBy(mark!)).toBeLessThan(0.3 * lentBy(alone))
  })
})
