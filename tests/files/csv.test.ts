import { expect, test } from 'vitest'
import { csvText, notRun, parseCsv } from '../../src/files/csv.js'

const fieldsOf = (text: string): (readonly string[])[] => parseCsv(text).rows.map(({ fields }) => fields)

test('what is written is read again, whatever it holds', () => {
  const rows = [
    ['plain', 'with, comma', 'with "quotes"'],
    ['two\r\nlines', '', 'żółta; Łódź'],
  ]
  expect(fieldsOf(csvText(rows))).toEqual(rows)
  expect(csvText([[null, 1.5]])).toBe(',1.5\r\n')
})

test('semicolons, tabs, a byte order mark and empty lines are understood, and lines are counted', () => {
  expect(fieldsOf('\uFEFFa;b\n1,5;2\n\n')).toEqual([
    ['a', 'b'],
    ['1,5', '2'],
  ])
  expect(fieldsOf('a\tb\r\n1\t2')).toEqual([
    ['a', 'b'],
    ['1', '2'],
  ])
  expect(parseCsv('a,b\n"x\ny",2\n\nz,3\n').rows.map(({ line }) => line)).toEqual([1, 2, 5])
})

test('a text that begins as a formula is no formula, and a number stays one', () => {
  for (const formula of ['=1+1', '+cmd|x', '-2+3', '@SUM(A1)', '\t=1', '\r=1', '=HYPERLINK("http://x")', '-'])
    expect(notRun(formula)).toBe(`'${formula}`)
  for (const plain of ['', '-12.5', '+48123', '0', 'Gate = north', "'=1"]) expect(notRun(plain)).toBe(plain)
})

test('a quote that never ends is told by its line', () => {
  expect(parseCsv('a,b\n"x,2\n').unclosed).toBe(2)
  expect(parseCsv('a,"b"\n').unclosed).toBeNull()
})
