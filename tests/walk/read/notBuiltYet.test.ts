import { describe, expect, test } from 'vitest'
import { ProofwalkErrors } from '../../../src/errors.js'
import { parseWalk } from '../../../src/walk/read/parseWalk.js'
import { FULL_WALK } from '../walkText.js'

const about = { file: 'walk.yaml', dir: '.', sha256: '' }

async function faultsOf(text: string): Promise<string[]> {
  try {
    await parseWalk(text, about)
    return []
  } catch (error) {
    if (!(error instanceof ProofwalkErrors)) throw error
    return error.faults.map(({ code, place }) => `${code} ${place.field?.replace(/ \(line.*/, '')}`)
  }
}

describe('a key of the format that is not available yet', () => {
  test.each([
    ['references.plate.text', '{ preset: plate-eu }', '{ preset: plate-eu, text: AB12 CDE }'],
    ['references.staff.letters', '{ length: 2 m, tolerance: 2 mm }', '{ letters: cards.json }'],
  ])('%s is refused, and nothing else is told', async (field, written, instead) => {
    expect(FULL_WALK).toContain(written)
    expect(await faultsOf(FULL_WALK)).toEqual([])
    expect(await faultsOf(FULL_WALK.replace(written, instead))).toEqual([`not-built-yet ${field}`])
  })

  test('is told with a mend', async () => {
    const text = FULL_WALK.replace('{ preset: plate-eu }', '{ preset: plate-eu, text: AB12 CDE }')
    await expect(parseWalk(text, about)).rejects.toThrow(
      'walk.yaml: references.plate.text (line 23): is not available yet; leave it out until a later release',
    )
  })

  test('whose value is no good is told by its value', async () => {
    const text = FULL_WALK.replace('{ preset: plate-eu }', '{ preset: plate-eu, text: [] }')
    expect((await faultsOf(text)).join()).not.toContain('not-built-yet')
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
