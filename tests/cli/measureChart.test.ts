import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { chartPaper } from '../../src/chart/printed/chartPapers.js'
import type { StillEntry } from '../../src/walk/schemas/resultsSchema.js'
import { chartAt, plateAt, takeScene } from '../walk/chartScene.js'
import { temporaryWalk } from '../walk/temporaryWalk.js'
import { sheetOfStrips } from '../support/stripSurface.js'
import { runCommand } from './recordingTerminal.js'

const A2 = chartPaper('A2')!

test('one still with a chart is measured with no walk, and the taped width scales it', async () => {
  const dir = await temporaryWalk({})
  const { bytes, truth } = await takeScene([chartAt(A2, 6)])
  const still = join(dir, 'still.jpg')
  await writeFile(still, bytes)
  const run = async (...more: string[]): Promise<StillEntry> => {
    const { out, err, status } = await runCommand('measure', still, '--chart', 'a2', ...more, '--json')
    expect([err, status]).toEqual(['', 0])
    return JSON.parse(out) as StillEntry
  }
  const entry = await run()
  expect([entry.method, entry.reference, entry.light]).toEqual(['chart', 'chart', null])
  expect(Math.abs(entry.density.horizontal! - truth.horizontalPxPerM)).toBeLessThan(
    entry.density.horizontalU!,
  )
  const scaled = await run('--printed-width', '458 mm')
  expect(Math.abs(scaled.density.horizontal! / entry.density.horizontal! - 487.2 / 458)).toBeLessThan(1e-4)
  const { out } = await runCommand('measure', still, '--chart', 'A2')
  expect(out).toContain('px/m')
}, 60_000)

test('one still with strips under its chart tells what they show', async () => {
  const dir = await temporaryWalk({})
  const A3 = chartPaper('A3')!
  const covering = sheetOfStrips(A3, A3.heightM)
  const { bytes } = await takeScene([{ ...chartAt(A3, 6), upM: 0.15, covering }])
  const still = join(dir, 'still.jpg')
  await writeFile(still, bytes)
  const { out, err, status } = await runCommand('measure', still, '--chart', 'A3', '--strip', 'a3')
  expect([err, status]).toEqual(['', 0])
  // A Gaussian blur of 0.7 px and the pixel leave 0.26 cycles per px of 233 px/m.
  expect(out).toMatch(/low contrast +(59|60|61)\.\d cycles\/m +± \d\.\d +shows a stroke of 3\.\d mm/)
}, 60_000)

test('a still without a chart, or with another one, is refused in one line with the mend', async () => {
  const dir = await temporaryWalk({})
  const still = join(dir, 'still.jpg')
  await writeFile(still, (await takeScene([plateAt(4)])).bytes)
  const none = await runCommand('measure', still, '--chart', 'A2')
  expect([none.status, none.err.trimEnd().split('\n').length]).toEqual([2, 1])
  expect(none.err).toContain('no chart was found')
  await writeFile(still, (await takeScene([chartAt(A2, 6)])).bytes)
  const other = await runCommand('measure', still, '--chart', 'A4')
  expect(other.status).toBe(2)
  expect(other.err).toContain('reads as the A2 one')
}, 60_000)

test.each([
  [['--chart', 'A2', '--strip', 'A9'], '--strip: there is no chart for paper "A9"'],
  [
    ['--reference', '2m', '--ends', '1,1 2,9', '--strip', 'A3'],
    '--strip: strips are fixed under a chart or a board',
  ],
  [['--chart', 'A9'], '--chart: there is no chart for paper "A9"'],
  [['--chart', 'A2', '--reference', 'plate-eu'], '--reference: the chart is found by itself'],
  [['--chart', 'A2', '--corners', '1,1 2,1 2,2 1,2'], '--corners: the chart is found by itself'],
  [['--chart', 'A2', '--printed-width', '594mm'], '--printed-width: is 122 %'],
  [['--chart', 'A2', '--printed-width', '594'], '--printed-width: "594" has no unit; write 594 mm\n'],
  [['--reference', 'plate-eu', '--printed-width', '485mm'], '--printed-width: is of the chart'],
])('%s is refused', async (options, says) => {
  const dir = await temporaryWalk({ 'still.jpg': 'x' })
  const { err, status } = await runCommand('measure', join(dir, 'still.jpg'), ...options)
  expect(status).toBe(2)
  expect(err).toContain(says)
})

test('the options of a chart are refused for a walk', async () => {
  const dir = await temporaryWalk({})
  const { err, status } = await runCommand('measure', dir, '--printed-width', '485mm')
  expect(status).toBe(2)
  expect(err).toContain('--printed-width: is for one still')
})

test('the chart is written and its frame told', async () => {
  const dir = await temporaryWalk({})
  const { out, status } = await runCommand('chart', '--paper', 'A2', '--out', join(dir, 'chart.pdf'))
  expect(status).toBe(0)
  expect(out).toContain('487.2 mm')
})
