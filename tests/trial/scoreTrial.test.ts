import { describe, expect, it } from 'vitest'
import { charactersRight } from '../../src/trial/charactersRight.js'
import { type PlacedAnswer, scoreTrial } from '../../src/trial/scoreTrial.js'
import { trialOrder } from '../../src/trial/trialOrder.js'

const answer = (given: Partial<PlacedAnswer>): PlacedAnswer => ({
  reader: 'Anna',
  crop: `${given.distanceM ?? 8} ${given.shown ?? 'ACE'}`,
  light: 'day',
  reference: 'card',
  row: 'full',
  distanceM: 8,
  shown: 'ACE',
  answered: 'ACE',
  again: false,
  ...given,
})
const guess = () => 1 / 18

describe('characters right', () => {
  it.each([
    ['ACEFHJK', 'ACEFHJK', 7],
    ['ACEFHJK', 'acefhjk', 7],
    ['ACEFHJK', 'ACEFHJX', 6],
    ['ACEFHJK', '???????', 0],
    ['ACEFHJK', 'CEFHJKA', 0],
    ['ACEFHJK', 'CEFHJK', 6],
    ['ACEFHJK', 'ACEFHJKL', 6],
    ['ACEFHJK', '', 0],
    ['ACEFHJK', null, 0],
    ['AB10CDE', 'ABIOCDE', 7],
    ['AC', 'XXXXXXXXX', 0],
  ])('of %s read as %s are %i', (shown, answered, right) => {
    expect(charactersRight(shown, answered)).toBe(right)
  })
})

describe('a scored trial', () => {
  it('counts characters per mark and reader, and shows none twice', () => {
    const [score] = scoreTrial(
      [
        answer({}),
        answer({ again: true, answered: 'ACX' }),
        answer({ reader: 'Ben', answered: 'AXE' }),
        answer({ distanceM: 12, answered: null }),
        answer({ distanceM: 12, reader: 'Ben', answered: '??E' }),
      ],
      guess,
    )
    expect(score!.marks.map(({ distance, right, asked }) => [distance, right, asked])).toEqual([
      [8, 5, 6],
      [12, 1, 6],
    ])
    expect(score!.readers).toMatchObject([
      { reader: 'Anna', right: 3, asked: 6, crops: 2, untold: 1, steady: 2 / 3 },
      { reader: 'Ben', right: 3, asked: 6, crops: 2, untold: 0, steady: null },
    ])
    // AxE and ACE agree on two of three; nothing and ??E on two of three.
    expect(score!.agreement).toBeCloseTo(4 / 6, 12)
    expect([score!.read50, score!.read95]).toEqual([null, null])
  })

  it('keeps lights, references and rows apart', () => {
    const scores = scoreTrial([answer({}), answer({ light: 'dark' }), answer({ row: 'faint' })], guess)
    expect(scores.map(({ light, row }) => [light, row])).toEqual([
      ['day', 'full'],
      ['dark', 'full'],
      ['day', 'faint'],
    ])
  })

  it('where no mark lies in the fall, holds both marks around it', () => {
    const texts = ['ACEFHJK', 'LNPRTUX']
    const answers = [6, 8, 14, 18].flatMap((distanceM) =>
      ['Anna', 'Ben', 'Cleo'].flatMap((reader) =>
        texts.map((shown) => answer({ reader, distanceM, shown, answered: distanceM < 10 ? shown : null })),
      ),
    )
    const [{ read50, read95 }] = scoreTrial(answers, guess) as [ReturnType<typeof scoreTrial>[number]]
    for (const read of [read50!, read95!]) {
      expect(read.low).toBeLessThanOrEqual(8)
      expect(read.high).toBeGreaterThanOrEqual(14)
    }
  })

  it('tells no distance where all is read, nothing is, or one reader reads', () => {
    const readers = ['Anna', 'Ben']
    const read = (right: (distanceM: number) => string | null, who = readers) =>
      scoreTrial(
        [6, 8, 14].flatMap((distanceM) =>
          who.flatMap((reader) =>
            ['ACEFHJK', 'LNPRTUX'].map((shown) =>
              answer({ reader, distanceM, shown, answered: right(distanceM) === null ? null : shown }),
            ),
          ),
        ),
        guess,
      )[0]!
    expect(read(() => 'all').read95).toBeNull()
    expect(read(() => null).read95).toBeNull()
    expect(read((distanceM) => (distanceM < 10 ? '' : null), ['Anna']).read95).toBeNull()
    expect(read((distanceM) => (distanceM < 10 ? '' : null)).read95).not.toBeNull()
  })
})

describe('the order of a trial', () => {
  const crops = Array.from({ length: 40 }, (_, index) => `crop ${index}`)

  it('shows every crop once and an eighth again, later', () => {
    const order = trialOrder(crops, 3, 'Anna')
    const first = order.filter(({ again }) => !again).map(({ crop }) => crop)
    expect([...first].sort()).toEqual([...crops].sort())
    const again = order.filter((one) => one.again)
    expect(again).toHaveLength(5)
    for (const one of again) {
      const shown = order.findIndex(({ crop }) => crop === one.crop)
      expect(order.indexOf(one)).toBeGreaterThan(shown)
    }
  })

  it('is the same for a reader whatever the order of the files, and another for others', () => {
    expect(trialOrder([...crops].reverse(), 3, 'Anna')).toEqual(trialOrder(crops, 3, 'Anna'))
    expect(trialOrder(crops, 3, 'Ben')).not.toEqual(trialOrder(crops, 3, 'Anna'))
    expect(trialOrder(crops, 4, 'Anna')).not.toEqual(trialOrder(crops, 3, 'Anna'))
  })
})
