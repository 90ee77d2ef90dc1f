import { expect, test } from 'vitest'
import type { WalkReference } from '../../../src/walk/read/walk.js'
import { resolveReference } from '../../../src/walk/stills/resolveReference.js'

const reference = (name: string): WalkReference => ({
  name,
  preset: null,
  carriedAtM: null,
  reference: { kind: 'length', name, lengthM: 1, toleranceM: 0.001 },
})
const plate = reference('plate')
const board = reference('board')
const still = (referenceName: string | null) => ({ referenceName })

test("a walk's only reference is assumed", () => {
  expect(resolveReference({ references: [plate] }, still(null), null)).toEqual({
    ok: true,
    value: { reference: plate, problems: [] },
  })
})

test('a pick that names none leaves it to walk.yaml, and disagrees with nothing', () => {
  expect(resolveReference({ references: [plate] }, still(null), { reference: null })).toMatchObject({
    value: { reference: plate, problems: [] },
  })
  const walk = { references: [plate, board] }
  expect(resolveReference(walk, still('board'), { reference: null })).toMatchObject({
    value: { reference: board, problems: [] },
  })
  expect(resolveReference(walk, still(null), { reference: null })).toMatchObject({ code: 'reference-untold' })
})

test('of several, the pick says which, then walk.yaml', () => {
  const walk = { references: [plate, board] }
  expect(resolveReference(walk, still(null), { reference: 'board' })).toMatchObject({
    value: { reference: board },
  })
  expect(resolveReference(walk, still('plate'), null)).toMatchObject({
    value: { reference: plate, problems: [] },
  })
  expect(resolveReference(walk, still(null), null)).toMatchObject({ ok: false, code: 'reference-untold' })
})

test('where pick and walk.yaml disagree the pick wins and it is told', () => {
  expect(
    resolveReference({ references: [plate, board] }, still('plate'), { reference: 'board' }),
  ).toMatchObject({
    value: { reference: board, problems: [{ code: 'reference-disagrees' }] },
  })
})

test('a name the walk does not have is not taken for its only one', () => {
  const outcome = resolveReference({ references: [board] }, still(null), { reference: 'bored' })
  expect(outcome).toMatchObject({ ok: false, code: 'reference-unknown' })
  expect(outcome.ok ? '' : outcome.message).toContain('did you mean board?')
})
