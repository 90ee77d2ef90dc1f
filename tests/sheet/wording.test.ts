import { expect, it } from 'vitest'
import { figuresFor, trimmed } from '../../src/units/figures.js'
import { printedValue } from '../../src/units/printedEstimate.js'
import { asSentence } from '../../src/sentences.js'
import { escapeXml, walkDate } from '../../src/sheet/document/openDocument.js'
import { whiskerPosition } from '../../src/sheet/tables/limitWhisker.js'
import { evenScale, logScale } from '../../src/plot/plotScales.js'
import { rangeText } from '../../src/sheet/acceptance/rangesTable.js'
import { editionText } from '../../src/sheet/acceptance/editionText.js'
import { standingOf, verdictSentences } from '../../src/sheet/acceptance/verdictSentences.js'
import { sheetContext } from '../../src/sheet/input/sheetContext.js'
import { gradeText } from '../../src/sheet/input/walkFacts.js'
import { inventedResults } from './inventedResults.js'

const metric = figuresFor('metric')
const feet = figuresFor('imperial')

it('says what became of the promises, by the rule they are judged by and by the other', () => {
  expect(verdictSentences(inventedResults())).toEqual([
    'With detail, by our stricter rule: 2 of 5 promises met, 2 not met, 1 not shown.',
    'By the pixel count of IEC 62676-4:2014: 4 of 5 promises met, 1 with enough pixels but unusable.',
  ])
  expect(verdictSentences(inventedResults({ promises: false }))).toEqual([
    'No grade was promised. 18 marks measured on 18 stills.',
  ])
  expect(verdictSentences(inventedResults({ failAll: true }))).toEqual([
    'With detail, by our stricter rule: 0 of 1 promise met, 1 not shown.',
    'By the pixel count of IEC 62676-4:2014: 0 of 1 promise met, 1 not shown.',
    'No still could be measured.',
  ])
  expect(verdictSentences(inventedResults({ failAll: true, promises: false }))).toEqual([
    'No still could be measured, and no grade was promised.',
  ])
})

it('counts what has enough pixels and is shown unusable as met by neither rule', () => {
  const results = inventedResults()
  const index = results.promises.findIndex(
    ({ byPixels, verdict }) => byPixels === 'met' && verdict === 'not met',
  )
  const promise = results.promises[index]!
  const marks = results.marks.map((mark) =>
    mark.light === promise.light && mark.reference === promise.decidedBy ? { ...mark, usable: false } : mark,
  )
  expect(standingOf(promise, 'pixels', results)).toBe('met')
  expect(standingOf(promise, 'pixels', { ...results, marks })).toBe('unusable')
  expect(standingOf(promise, 'detail', { ...results, marks })).toBe('not met')
  expect(verdictSentences({ ...results, marks })[1]).toContain(', 2 with enough pixels but unusable')
})

it('counts a walk judged by pixels as its frames say, not by the bare count', () => {
  const results = inventedResults()
  const [first] = results.promises
  // Too few of its strokes stand out, or no still stands there: the frame does not say met.
  const judged = (verdict: 'not met' | 'not shown') => ({
    ...results,
    walk: { ...results.walk, judge: 'pixels' as const },
    promises: [{ ...first!, basis: 'pixels' as const, verdict, byPixels: 'met' as const }],
  })
  expect(verdictSentences(judged('not met'))).toEqual([
    'By the pixel count of IEC 62676-4:2014: 0 of 1 promise met, 1 not met.',
  ])
  expect(verdictSentences(judged('not shown'))).toEqual([
    'By the pixel count of IEC 62676-4:2014: 0 of 1 promise met, 1 not shown.',
  ])
})

it('names the edition that is withdrawn, and what the one in force calls its densities', () => {
  const results = inventedResults()
  expect(editionText(results)).toMatch(
    /^IEC 62676-4:2014 was withdrawn on 2025-10-09\. In IEC 62676-4:2025, in force, .*125 px\/m is Perceive/,
  )
  expect(editionText({ ...results, grading: { ...results.grading, id: 'iec-62676-4-2025' } })).toBe(
    'In IEC 62676-4:2014, withdrawn on 2025-10-09, 62.5 px/m is Observe, 125 px/m is Recognise, 250 px/m is Identify.',
  )
  expect(editionText({ ...results, promises: [] })).toBeNull()
  expect(editionText({ ...results, grading: { ...results.grading, id: 'house-rules' } })).toBeNull()
})

it('never rounds a density across the limit it was held against', () => {
  expect(printedValue(124.96, 1, [125])).toBe('124.96')
  expect(printedValue(124.9996, 1, [125])).toBe('124.9996')
  expect(printedValue(125.04, 1, [125])).toBe('125.0')
  expect(printedValue(125, 1, [125])).toBe('125.0')
  expect(printedValue(62.46, 1, [62.5])).toBe('62.46')
  expect(printedValue(118.4, 1, [125])).toBe('118.4')
})

it('prints limits in px/m exactly as their source has them, and px/ft beside them where the walk is in feet', () => {
  expect(metric.bareLimit(62.5)).toBe('62.5')
  expect(metric.bareLimit(125)).toBe('125')
  expect(metric.limit(62.5)).toBe('62.5 px/m')
  expect(feet.limit(125)).toBe('125 px/m (38.1 px/ft)')
  expect(feet.limit(62.5)).toBe('62.5 px/m (19.05 px/ft)')
  expect(metric.distance(12.5)).toBe('12.5 m')
  expect(feet.distance(13.716)).toBe('45 ft')
  expect(trimmed(100, 2)).toBe('100')
})

it('puts a range in words', () => {
  const context = sheetContext(inventedResults())
  const range = { light: 'day', reference: 'board', grade: 'observe', basis: 'detail', from: null } as const
  const say = (rest: Partial<Parameters<typeof rangeText>[0] & object>): string =>
    rangeText({ ...range, distance: null, low: null, high: null, kind: 'none', ...rest }, context)
  expect(say({})).toBe('not shown at any mark')
  expect(say({ kind: 'fitted', distance: 16.43, low: 15.9, high: 17.04 })).toBe('16.43 (15.90 to 17.04)')
  expect(say({ kind: 'bracketed', low: 12, high: 16 })).toBe('between 12 and 16')
  expect(say({ kind: 'bracketed', low: 12, high: 16, from: 6 })).toBe('between 12 and 16, from 6 on')
  expect(say({ kind: 'extrapolated', low: 20 })).toBe('at least 20; no mark fails it')
  expect(say({ kind: 'extrapolated', distance: 35.2, low: 34, high: 36 })).toBe(
    '35.2 (34.0 to 36.0), beyond the marks',
  )
})

it('tells grades that were not reached from grades that could not be judged', () => {
  const { grading } = inventedResults()
  expect(gradeText(grading, 'recognise')).toBe('Recognise')
  expect(gradeText(grading, 'none')).toBe('no grade')
  expect(gradeText(grading, null)).toBe('not judged')
})

it('stands the limit in the middle of the strip, half and twice at its ends, and nothing beyond', () => {
  expect([30, 62.5, 125, 250, 900].map((density) => whiskerPosition(density, 125))).toEqual([0, 0, 0.5, 1, 1])
})

it('scales a plot evenly from zero and by powers of ten', () => {
  expect(evenScale(20, 0, 100, 12).ticks).toEqual([0, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20])
  expect(evenScale(0.4, 0, 100, 12).ticks.at(-1)).toBe(0.4)
  expect(logScale(45, 1100, 0, 100).ticks).toEqual([50, 100, 200, 500, 1000])
  expect(logScale(10, 1000, 0, 100).at(100)).toBe(50)
})

it('makes sentences of phrases, and XML text of any text', () => {
  expect(asSentence('washed out: 83 % is at white')).toBe('Washed out: 83 % is at white.')
  expect(asSentence('Is it?')).toBe('Is it?')
  expect(asSentence('')).toBe('')
  expect(escapeXml('A & B <"x">\u0007')).toBe('A &amp; B &lt;&quot;x&quot;&gt; ')
})

it('dates the document by the walk and never by a clock', () => {
  expect(walkDate('2026-03-14').toISOString()).toBe('2026-03-14T12:00:00.000Z')
  expect(walkDate('').toISOString()).toBe('2000-01-01T12:00:00.000Z')
  expect(walkDate('2026-13-99').toISOString()).toBe('2000-01-01T12:00:00.000Z')
})
