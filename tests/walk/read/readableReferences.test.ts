import { describe, expect, test } from 'vitest'
import { ProofwalkErrors } from '../../../src/errors.js'
import { parseWalk } from '../../../src/walk/read/parseWalk.js'
import { FULL_WALK } from '../walkText.js'

const about = { file: 'walk.yaml', dir: '.', sha256: '' }
const PLATE = '{ preset: plate-eu }'

async function faultsOf(text: string): Promise<string[]> {
  try {
    await parseWalk(text, about)
    return []
  } catch (error) {
    if (!(error instanceof ProofwalkErrors)) throw error
    return error.faults.map(({ code, place }) => `${code} ${place.field?.replace(/ \(line.*/, '')}`)
  }
}

describe('what is to be read on a reference', () => {
  const plateAs = async (written: string) => {
    expect(FULL_WALK).toContain(PLATE)
    const { references } = await parseWalk(FULL_WALK.replace(PLATE, written), about)
    return references.find(({ name }) => name === 'plate')!
  }

  test("is a plate's text, without its spaces", async () => {
    const plate = await plateAs('{ preset: plate-eu, text: ab12 CDE }')
    expect(plate.reads).toEqual({ text: 'AB12CDE' })
    expect(await plateAs(PLATE)).not.toHaveProperty('reads')
  })

  test('is letter cards under the chart of their paper, A2 unless said', async () => {
    const card = await plateAs('{ letters: cards.json }')
    expect(card).toMatchObject({
      reads: { letters: 'cards.json' },
      reference: { chart: { paper: 'A2', printedWidthM: null } },
    })
    const large = await plateAs('{ letters: cards.json, chart: A1, printedWidth: 688 mm, carriedAt: 1.2 m }')
    expect(large).toMatchObject({ carriedAtM: 1.2, reference: { widthM: 0.688, chart: { paper: 'A1' } } })
  })

  test.each([
    ['{ preset: plate-eu, text: "?" }', 'bad-value references.plate.text'],
    ['{ letters: ../cards.json }', 'path-leaves-walk references.plate.letters'],
    ['{ letters: cards.json, chart: A9 }', 'unknown-paper references.plate.chart'],
    ['{ letters: cards.json, printedWidth: 48 mm }', 'chart-width references.plate.printedWidth'],
  ])('%s is told by its field', async (written, told) => {
    expect(await faultsOf(FULL_WALK.replace(PLATE, written))).toEqual([told])
  })
})

test("a promise's task and what are carried as they are written", async () => {
  const text = FULL_WALK.replace(
    '{ grade: recognise, at',
    '{ task: read a plate, what: the gate, grade: recognise, at',
  )
  const { promises } = await parseWalk(text, about)
  expect(promises[0]).toEqual({
    task: 'read a plate',
    what: 'the gate',
    grade: 'recognise',
    distanceM: 16,
    light: 'day',
  })
})
