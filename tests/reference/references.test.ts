import { describe, expect, test } from 'vitest'
import { referenceOfPreset, referencePresets } from '../../src/measure/reference/referencePresets.js'

const inch = 25.4

// [id, width, height or the length alone (mm), where it was published]
const published: readonly (readonly [string, readonly number[], string])[] = [
  ['plate-eu', [520, 110], 'common blank of national laws; two independent texts'],
  ['plate-uk', [520, 111], 'usual blank, no outline in SI 2001/561; two independent texts'],
  ['characters-uk', [79], 'SI 2001/561, height of characters from 2001-09-01'],
  ['plate-na', [12 * inch, 6 * inch], 'SAE J686 (1954, stabilised 2012)'],
  ['plate-de', [520, 110], 'FZV annex 4 section 1, one line'],
  ['plate-de-two-line', [340, 200], 'FZV annex 4 section 1, two lines'],
  ['plate-de-small', [255, 130], 'FZV annex 4 section 1, reduced'],
  ['plate-au', [372, 134], 'two independent texts'],
  ['plate-jp', [330, 165], 'two independent texts'],
  ['plate-cn', [440, 140], 'GA 36'],
  ['plate-cn-large', [440, 220], 'GA 36'],
  ['plate-in', [500, 120], 'Central Motor Vehicles Rules 1989, rules 50 and 51'],
  ['plate-in-two-line', [340, 200], 'Central Motor Vehicles Rules 1989, rules 50 and 51'],
  ['plate-mercosur', [400, 130], 'Mercosur GMC resolution 33/14'],
  ['plate-ru', [520, 112], 'GOST R 50577 type 1; two independent texts'],
  ['plate-kr', [520, 110], 'two independent texts'],
  ['card-id1', [85.6, 53.98], 'ISO/IEC 7810 ID-1'],
  ['paper-a5', [148, 210], 'ISO 216:2007 table 1'],
  ['paper-a4', [210, 297], 'ISO 216:2007 table 1'],
  ['paper-a3', [297, 420], 'ISO 216:2007 table 1'],
  ['paper-a2', [420, 594], 'ISO 216:2007 table 1'],
  ['paper-a1', [594, 841], 'ISO 216:2007 table 1'],
  ['paper-a0', [841, 1189], 'ISO 216:2007 table 1'],
  ['paper-letter', [8.5 * inch, 11 * inch], 'ANSI/ASME Y14.1 size A'],
  ['paper-tabloid', [11 * inch, 17 * inch], 'ANSI/ASME Y14.1 size B'],
]

describe('reference presets have their published sizes', () => {
  test.each(published)('%s is %j mm (%s)', (id, sizesMm) => {
    const preset = referencePresets.find((one) => one.id === id)
    const own = preset?.kind === 'length' ? [preset.lengthMm] : [preset?.widthMm, preset?.heightMm]
    expect(own.map((size) => Math.round((size ?? 0) * 1e6) / 1e6)).toEqual(
      sizesMm.map((size) => Math.round(size * 1e6) / 1e6),
    )
  })

  test('every preset stands in the table above, and once', () => {
    expect(referencePresets.map(({ id }) => id)).toEqual(published.map(([id]) => id))
  })

  test('every preset says where it comes from and how far it was checked', () => {
    for (const preset of referencePresets) {
      expect(preset.source.length).toBeGreaterThan(5)
      expect(preset.toleranceSource.length).toBeGreaterThan(5)
      expect(preset.toleranceMm).toBeGreaterThan(0)
      expect(['verified', 'two sources']).toContain(preset.status)
    }
  })

  test('the lawful smallest outline of a seven-character UK plate lies within the usual blank', () => {
    // SI 2001/561: width 50, gap 11, group gap 33, margins at least 11, height 79: 460 x 101 mm
    const leastMm = [7 * 50 + 5 * 11 + 33 + 2 * 11, 79 + 2 * 11]
    const plate = referencePresets.find(({ id }) => id === 'plate-uk')!
    expect(leastMm).toEqual([460, 101])
    expect(plate.kind === 'rectangle' && plate.widthMm >= 460 && plate.heightMm >= 101).toBe(true)
  })
})

test('a preset becomes a reference in metres under the name the walk gives it', () => {
  const plate = referencePresets.find(({ id }) => id === 'plate-eu')!
  expect(referenceOfPreset(plate, 'plate')).toEqual({
    kind: 'rectangle',
    name: 'plate',
    widthM: 0.52,
    heightM: 0.11,
    widthToleranceM: 0.001,
    heightToleranceM: 0.001,
    marking: 'characters',
  })
  const characters = referencePresets.find(({ id }) => id === 'characters-uk')!
  expect(referenceOfPreset(characters, 'letters', 0.0005)).toEqual({
    kind: 'length',
    name: 'letters',
    lengthM: 0.079,
    toleranceM: 0.0005,
  })
})
