import { describe, expect, test } from 'vitest'
import { formatLength } from '../../src/units/formatLength.js'
import { parseLength } from '../../src/units/parseLength.js'
import { expectNear } from '../nearly.js'

describe('lengths as people write them', () => {
  test.each([
    ['16 m', 16],
    ['16m', 16],
    ['  16   M ', 16],
    ['0.5 m', 0.5],
    ['.5 m', 0.5],
    ['487.2 mm', 0.4872],
    ['1.2 cm', 0.012],
    ['45 ft', 13.716],
    ["45'", 13.716],
    ['30 in', 0.762],
    ['30"', 0.762],
    ['5\'6"', 1.6764],
    ['5\' 6"', 1.6764],
    ["5'6''", 1.6764],
    ['5\u20326\u2033', 1.6764],
    ['5\u20196\u201d', 1.6764],
    ['5 ft 6 in', 1.6764],
    ['5ft6.5in', 1.6891],
    ['2.9 um', 2.9e-6],
    ['2.9 \u00b5m', 2.9e-6],
    ['2.9 \u03bcm', 2.9e-6],
    ['12,5 m', 12.5],
    ['0 m', 0],
    ['45 ft (13.72 m)', 13.716],
    ['45 ft (13.7 m)', 13.716],
    ['45 ft(14 m)', 13.716],
    ['13.72 m (45 ft)', 13.72],
    ['5\'6" (1.68 m)', 1.6764],
    ['5\' 6 1/2"', 1.6891],
    ['5\'-6 1/2"', 1.6891],
    ['5 ft 6 1/2 in', 1.6891],
    ['5 feet 6 inches', 1.6764],
    ['1 foot 1 inch', 0.3302],
    ['12 3/4 in', 0.32385],
    ['3/4 in', 0.01905],
    ['12 3/4"', 0.32385],
    ['24 inches', 0.6096],
    ['24 Inches', 0.6096],
    ['20 feet', 6.096],
    ['20 feet (6.1 m)', 6.096],
    ['12 3/4 in (324 mm)', 0.32385],
    ['16 metres', 16],
    ['16 meters', 16],
    ['485 millimetres', 0.485],
  ])('%s is %d m', (text, lengthM) => {
    const outcome = parseLength(text)
    expectNear(
      outcome.ok ? outcome.value : Number.NaN,
      lengthM,
      lengthM === 0 ? { abs: 0 } : { rel: 3e-16 },
      'one rounding',
    )
  })

  test.each([
    ['16', 'bare-number', '16 m'],
    ['16.5', 'bare-number', '16.5 ft'],
    ['', 'bad-length', '16 m'],
    ['far', 'bad-length', '"far"'],
    ['m', 'bad-length', '"m"'],
    ['12 4/4 in', 'bad-length', 'fraction'],
    ['12 3/0 in', 'bad-length', 'fraction'],
    ['12 3/4', 'bare-number', '12 3/4 m'],
    ['5\' 12 1/2"', 'bad-length', '12 inches'],
    ['12 3/4 in (325 mm)', 'units-disagree', '0.32385 m'],
    ['16 yd', 'unknown-unit', 'ft or in'],
    ['16 m b', 'unknown-unit', '"16 m b"'],
    ['16 constructor', 'unknown-unit', 'not known'],
    ['16 m 20 cm', 'unknown-unit', 'not known'],
    ['-4 m', 'negative-length', 'negative'],
    ['\u22124 m', 'negative-length', 'negative'],
    ['1.2.3 m', 'bad-length', '1.2.3'],
    ['1e3 mm', 'unknown-unit', 'not known'],
    ['1,000 mm', 'bad-length', '1.000 or 1000'],
    ['1,2.5 m', 'bad-length', 'one decimal point'],
    ['Infinity m', 'bad-length', 'Infinity'],
    ['NaN m', 'bad-length', 'NaN'],
    ['1234567890123456 m', 'bad-length', '15 digits'],
    ['5\'14"', 'bad-length', '12 inches'],
    ['5 ft 6', 'unknown-unit', 'not known'],
    ['45 ft (13.8 m)', 'units-disagree', '13.716 m'],
    ['45 ft (13.71 m)', 'units-disagree', '13.71 m'],
    ['45 ft (13.72)', 'bare-number', '13.72 m'],
    ['45 (13.72 m)', 'bare-number', '45 m'],
    ['45 ft (13.72 m) b', 'unknown-unit', 'not known'],
  ])('%s is refused as %s', (text, code, says) => {
    const outcome = parseLength(text)
    expect(outcome).toMatchObject({ ok: false, code })
    expect(outcome.ok ? '' : outcome.message).toContain(says)
  })
})

describe('lengths as the tables print them', () => {
  test.each([
    [16, 'metric', '16 m'],
    [13.716, 'metric', '13.72 m'],
    [12.5, 'metric', '12.5 m'],
    [0.485, 'metric', '485 mm'],
    [0.05398, 'metric', '54 mm'],
    [0.99999, 'metric', '1 m'],
    [13.716, 'imperial', '45 ft'],
    [0.1524, 'imperial', '6 in'],
    [0, 'metric', '0 mm'],
  ] as const)('%d m in %s prints as %s', (lengthM, system, text) => {
    expect(formatLength(lengthM, system)).toBe(text)
    expect(parseLength(text).ok).toBe(true)
  })

  test('a length that is not a number is refused', () => {
    expect(() => formatLength(Number.NaN)).toThrow('not a length')
  })
})
