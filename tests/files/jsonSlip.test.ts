import { expect, test } from 'vitest'
import { seededRandom } from '../../src/math/random.js'
import { jsonSlip } from '../../src/files/jsonSlip.js'

test.each([
  ['{"a": 1,}', 1, 8, 'a comma too many'],
  ['{"a": 1\n "b": 2}', 2, 2, 'a comma or } is missing before this'],
  ['[1, 2', 1, 6, 'ends before its ]'],
  ["{'a': 1}", 1, 2, 'a key in double quotes or } is missing'],
  ['{"a" 1}', 1, 6, 'a colon is missing'],
  ['{"a": }', 1, 7, 'a value is missing'],
  ['{"a": hand}', 1, 7, 'not a value of JSON'],
  ['{"a": .5}', 1, 7, 'not a value of JSON'],
  ['{"a": "x}\n', 1, 7, 'not closed'],
  ['{}\n{}', 2, 1, 'more after the end'],
  ['', 1, 1, 'a value is missing'],
])('%j slips at line %d, column %d', (text, line, column, says) => {
  const slip = jsonSlip(text)
  expect(slip).toMatchObject({ line, column })
  expect(slip?.message).toContain(says)
})

test('finds a slip exactly where the language finds the text unsound', () => {
  const sound = '{"a": [1, -2.5e3, "x\\u00e9\\n"], "b": {"c": null, "d": [true, false, []]}, "e": {}}'
  const random = seededRandom(7)
  const letters = '{}[],:"\\ 01.-etrnul'
  const pick = (below: number) => Math.floor(random.uniform() * below)
  let unsound = 0
  for (let round = 0; round < 4000; round++) {
    const at = pick(sound.length)
    const text = sound.slice(0, at) + letters[pick(letters.length)]! + sound.slice(at + pick(3))
    let parses = true
    try {
      JSON.parse(text)
    } catch {
      parses = false
      unsound++
    }
    expect(jsonSlip(text) === null, text).toBe(parses)
  }
  expect(unsound).toBeGreaterThan(1000)
})
