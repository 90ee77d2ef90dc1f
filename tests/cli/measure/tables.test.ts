import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { gradeNameOf } from '../../../src/grade/gradings/grading.js'
import { measureTable } from '../../../src/cli/measure/measureTable.js'
import { nextAfterStill } from '../../../src/cli/measure/measureOneStill.js'
import { openCommand } from '../../../src/cli/terminal/openCommand.js'
import { shellWord } from '../../../src/cli/terminal/shellWord.js'
import { stillTable } from '../../../src/cli/measure/stillTable.js'
import { textTable } from '../../../src/cli/terminal/textTable.js'
import { expectNear } from '../../nearly.js'
import { inventedResults } from '../../sheet/inventedResults.js'

test('the table of a walk in feet prints ft and px/ft with px/m beside, and limits as the standard has them', () => {
  const table = measureTable(inventedResults({ imperial: true }))
  expect(table).toMatch(/^ +mark +px\/ft +95 % +px\/m +with detail/m)
  expect(table).toMatch(/verdict +px\/ft +95 % +px\/m +limit, px\/m +by pixels$/m)
  const [, inFeet, inMetres] = /^ +[\d.]+ ft +([\d.]+) +[\d.]+ to [\d.]+ +([\d.]+)/m.exec(table)!
  expectNear(Number(inFeet) / 0.3048, Number(inMetres), { rel: 0.005 }, 'as printed')
  expect(table).not.toMatch(/^ {2}(.* {2})?[\d.]+ m( {2}|$)/m)
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

test('a sign two cells wide counts two, and a mark above a letter none (Unicode Standard Annex 11)', () => {
  const rows = [{ cells: ['東門', 'x'] }, { cells: ['cafe\u0301', 'y'] }]
  expect(textTable(['at', 'b'], rows)).toBe('  at    b\n  ----  -\n  東門  x\n  cafe\u0301  y\n')
})

test('a path is quoted for the shell only where it must be', () => {
  expect([shellWord('my-camera'), shellWord("gable, it's")]).toEqual(['my-camera', "'gable, it'\\''s'"])
})

test('the table of a walk tells every mark, promise and file not measured, and the discount never under the name of the standard', () => {
  const results = inventedResults({})
  const table = measureTable(results)
  for (const { light, reference } of results.marks) expect(table).toContain(`${light}, ${reference}\n`)
  const promised = table.slice(table.indexOf('Promises\n'), table.indexOf('How far'))
  expect(
    promised.match(/^ {2}\S.* (met|not met|not shown) .* (met|not met|not shown|unusable)$/gm),
  ).toHaveLength(results.promises.length)
  for (const { why } of results.promises) expect(promised).toContain(`      ${why}\n`)
  for (const { file, message } of [...results.failed, ...results.unassigned])
    expect(table).toContain(`  ${file}: ${message}\n`)
  expect(table).not.toMatch(/IEC.*detail/)
})

test('a walk judged by pixels has one grade and no word of detail that was never measured', () => {
  const results = inventedResults({ judge: 'pixels' })
  const unmeasured = { ...results, marks: results.marks.map((mark) => ({ ...mark, effectiveDensity: null })) }
  const table = measureTable(unmeasured)
  expect(table).not.toMatch(/with detail|by pixels {2}/)
  expect(table).toMatch(/^ +mark +px\/m +95 % +grade$/m)
  const measured = measureTable(results)
  expect(measured).toMatch(/^ +mark +px\/m +95 % +with detail +95 % +finest stroke, mm +grade$/m)
  expect(measured).not.toMatch(/grade with detail|grade by pixels/)
  expect(measureTable(inventedResults({}))).toMatch(/grade by pixels {2}grade with detail$/m)
})

test('the grade of a walk judged by pixels is that with contrast: none where nothing stands out', () => {
  const plate = measureTable(inventedResults({ judge: 'pixels' }))
    .split('infrared, plate\n')[1]!
    .split('\n\n')[0]!
  expect(plate.split('\n').filter((line) => / m {2}/.test(line))).toHaveLength(6)
  for (const line of plate.split('\n').filter((row) => / m {2}/.test(row))) expect(line).toMatch(/ none$/)
})

test('findings stand after the ranges, and the number of stills where a mark has several', () => {
  const results = inventedResults({ stillsPerMark: 3 })
  const table = measureTable(results)
  const found = table.indexOf(`Found on the walk as a whole\n  ${results.findings[0]!.message}\n`)
  expect(found).toBeGreaterThan(table.indexOf('How far each grade holds'))
  expect(table).toMatch(/^ +mark {2}stills +px\/m/m)
  expect(table).toMatch(/^ {3}4 m {7}3 /m)
  const plain = measureTable(inventedResults({ promises: false }))
  expect(plain).not.toMatch(/stills +px\/m/)
  expect(plain).not.toContain('Found on the walk')
})

test('a promise on no reference is one on every reference', () => {
  expect(measureTable(inventedResults({ failAll: true }))).toMatch(/Recognise {2}16 m {2}day {4}every /)
})

test('of one still only intervals stand under 95 %, and what a figure is about has a column of its own', () => {
  const results = inventedResults({})
  const direction = { mtf50: 0.3, mtf10: 0.38, overshoot: 0 }
  const sharpness = {
    method: 'edge',
    horizontal: direction,
    vertical: direction,
    factor: 0.95,
    factorU: 0.02,
  } as const
  const tone = {
    bright: 0.8,
    dim: 0.1,
    michelson: 0.78,
    noise: 1.2,
    contrastToNoise: 30,
    roseK: {},
    clippedBright: 0,
    clippedDim: 0,
  }
  const [head, rule, ...rows] = stillTable({ ...results.stills[0]!, sharpness, tone }, results.grading)
    .trimEnd()
    .split('\n')
  const column = head!.indexOf('95 %')
  const about = head!.indexOf('about')
  expect(rule!.slice(column - 1, column + 1)).toBe(' -')
  for (const row of rows) expect(row.slice(column, about).trim()).toMatch(/^(|[\d.]+ to [\d.]+|± [\d.]+)$/)
  expect(rows.map((row) => row.slice(about)).filter((text) => text !== '')).toEqual([
    'counts 95 % of the pixels',
    'noise 1.2 of 255',
    `${results.grading.name}, from 250 px/m`,
    "this project's stricter rule, from 250 px/m",
  ])
})

test('after one still comes the walk it lies in, or a new one; after a sheet, opening it', async () => {
  const dir = await mkdtemp(join(tmpdir(), 'proofwalk-next-'))
  try {
    const still = join(dir, 'stills', 'day', '16m.jpg')
    await mkdir(join(dir, 'stills', 'day'), { recursive: true })
    expect(await nextAfterStill(still)).toBe('Next: proofwalk new my-camera')
    await writeFile(join(dir, 'walk.yaml'), '')
    expect(await nextAfterStill(still)).toBe(
      `Next: put its points into ${join(dir, 'picks.json')}, then proofwalk measure ${shellWord(dir)}`,
    )
  } finally {
    await rm(dir, { recursive: true })
  }
  expect(openCommand('my camera/sheet.pdf', 'linux')).toBe("xdg-open 'my camera/sheet.pdf'")
  expect(openCommand('sheet.pdf', 'darwin')).toBe('open sheet.pdf')
  expect(openCommand('my camera/sheet.pdf', 'win32')).toBe('start "" "my camera/sheet.pdf"')
})
