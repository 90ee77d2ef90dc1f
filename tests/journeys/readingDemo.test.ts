import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type WalkResults, resultsSchema } from '../../src/walk/schemas/resultsSchema.js'
import { hasPoppler, poppler } from '../sheet/poppler.js'
import { type Run, runProofwalk } from './runProofwalk.js'

let home: string
let dir: string
let run: Run
let results: WalkResults

beforeAll(async () => {
  home = await mkdtemp(join(tmpdir(), 'proofwalk-reading-'))
  dir = join(home, 'demo')
  run = await runProofwalk(['demo', '--reading', dir], { killAfterMs: 580_000 })
  results = resultsSchema.parse(JSON.parse(await readFile(join(dir, 'results.json'), 'utf8')))
}, 600_000)
afterAll(() => rm(home, { recursive: true, force: true }))

describe('the demonstration of the reading trial', () => {
  test('ends with 0 and says that stills and readers are simulated', () => {
    expect([run.status, run.err]).toEqual([0, ''])
    expect(run.out).toMatch(/^SIMULATED: 24 stills of letter cards in /)
    expect(run.out).toContain('SIMULATED: 5 simulated readers, nobody real')
    expect(run.out.trimEnd().split('\n').at(-1)).toBe(`Next: proofwalk read ${dir}`)
    expect(results.readings.flatMap(({ readers }) => readers)).toHaveLength(10)
    for (const { reader } of results.readings.flatMap(({ readers }) => readers))
      expect(reader).toMatch(/^simulated reader \d$/)
  })

  test('has a promise met, one undecided and one not met, each by what was read', () => {
    expect(results.promises.map(({ verdict }) => verdict)).toEqual(['met', 'not shown', 'not met'])
    for (const { verdict, low, high, limit } of results.promises) {
      expect(low! >= limit).toBe(verdict === 'met')
      expect(high! < limit).toBe(verdict === 'not met')
    }
  })

  test('tells every card of every still', () => {
    for (const { marks } of results.readings)
      expect(marks.map(({ asked }) => asked)).toEqual(Array.from({ length: 8 }, () => 3 * 5 * 7))
  })

  test.skipIf(!hasPoppler())('writes a sheet of at most eight pages with what readers read', async () => {
    const sheet = await readFile(join(dir, 'sheet.pdf'))
    const pages = Number(/Pages:\s+(\d+)/.exec(poppler('pdfinfo', ['FILE'], sheet))![1])
    expect(pages).toBeLessThanOrEqual(8)
    const text = poppler('pdftotext', ['-layout', 'FILE', '-'], sheet)
    expect(text).toContain('What must be read, shown blind to readers: 1 of 3 met, 1 not met, 1 not shown')
    expect(text).toContain('What readers read, shown blind')
    expect(text).toContain('simulated reader 5')
  })

  test('is taken again over an earlier one', async () => {
    const { claimDemoFolder } = await import('../../src/simulate/demo/claimDemoFolder.js')
    const { READING_KIND } = await import('../../src/simulate/demo/makeReadingDemo.js')
    const claimed = await claimDemoFolder(dir, READING_KIND)
    await claimed.abandon()
    expect(await readFile(join(dir, 'walk.yaml'), 'utf8')).toContain('simulated: true')
  })
})
