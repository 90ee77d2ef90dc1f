import { expect, test } from 'vitest'
import { densityText, gradeNameOf, metresText } from '../../src/cli/figures.js'
import { measureTable } from '../../src/cli/measureTable.js'
import { shellWord } from '../../src/cli/shellWord.js'
import { textTable } from '../../src/cli/textTable.js'
import { inventedResults } from '../sheet/inventedResults.js'

test('densities are whole from 100 px/m on and have one decimal below; distances have no trailing zeros', () => {
  expect([99.94, 100, 123.6, 62.5].map(densityText)).toEqual(['99.9', '100', '124', '62.5'])
  expect([16, 17.5, 13.716].map(metresText)).toEqual(['16 m', '17.5 m', '13.72 m'])
})

test('a grade has the name of its grading, and a dash where it could not be judged', () => {
  const grading = { grades: [{ id: 'observe', name: 'Observe' }] }
  expect([gradeNameOf('observe', grading), gradeNameOf('none', grading), gradeNameOf(null, grading)]).toEqual(
    ['Observe', 'none', '-'],
  )
})

test('columns are as wide as their widest cell as a reader counts, the last is not padded, and notes stand beneath their row', () => {
  const rows = [{ cells: ['4 m', 'κοντά'], note: 'held turned' }, { cells: ['12.5 m', '𝛼'] }]
  expect(textTable(['mark', 'what'], rows, ['right'])).toBe(
    '    mark  what\n  ------  -----\n     4 m  κοντά\n      held turned\n  12.5 m  𝛼\n',
  )
})

test('a path is quoted for the shell only where it must be', () => {
  expect([shellWord('my-camera'), shellWord("gable, it's")]).toEqual(['my-camera', "'gable, it'\\''s'"])
})

test('the table of a walk tells every mark, promise and file not measured, and the discount never under the name of the standard', () => {
  const results = inventedResults({})
  const table = measureTable(results)
  for (const { light, reference } of results.marks) expect(table).toContain(`${light}, ${reference}\n`)
  const promised = table.slice(table.indexOf('Promises\n'), table.indexOf('How far'))
  expect(promised.match(/^ {2}\S.* (met|not met|not shown) .* (met|not met|not shown)$/gm)).toHaveLength(
    results.promises.length,
  )
  for (const { why } of results.promises) expect(promised).toContain(`      ${why}\n`)
  for (const { file, message } of [...results.failed, ...results.unassigned])
    expect(table).toContain(`  ${file}: ${message}\n`)
  expect(table).not.toMatch(/IEC.*detail/)
})
