import { describe, expect, it } from 'vitest'
import { placeFlags } from '../../../src/plot/placeFlags.js'
import type { WalkResults } from '../../../src/walk/schemas/resultsSchema.js'
import { inventedResults } from '../inventedResults.js'
import { hasPoppler, pageWords, type PdfWord, poppler } from '../poppler.js'
import { sheetOf } from '../sheetOf.js'

describe('flags in one row', () => {
  it('stand at their own places where there is room', () => {
    expect(
      placeFlags(
        [
          { x: 50, width: 9 },
          { x: 20, width: 9 },
        ],
        0,
        100,
      ),
    ).toEqual([50, 20])
  })

  it('step aside for one another and stay within the plot', () => {
    const flags = [97, 95, 96, 4, 3].map((x) => ({ x, width: 10 }))
    const centres = placeFlags(flags, 0, 100)
    const sorted = centres.toSorted((a, b) => a - b)
    for (const [index, centre] of sorted.entries()) {
      expect(centre - 5).toBeGreaterThanOrEqual(0)
      expect(centre + 5).toBeLessThanOrEqual(100)
      if (index > 0) expect(centre - sorted[index - 1]!).toBeGreaterThanOrEqual(12)
    }
    // In the order of their places: the 95 m flag stands left of the 96 m one.
    expect(centres[1]!).toBeLessThan(centres[2]!)
    expect(centres[2]!).toBeLessThan(centres[0]!)
  })
})

describe.skipIf(!hasPoppler())('the first page (skipped only where poppler is not installed)', () => {
  const text = async (results: WalkResults, pages: readonly string[] = ['-l', '1']): Promise<string> =>
    poppler('pdftotext', ['-layout', ...pages, 'FILE', '-'], await sheetOf(results))

  it('has one word for what is not shown, and says once what it means', async () => {
    const page = await text(inventedResults())
    expect(page).toContain('With detail, by our stricter rule: 2 of 5 promises met, 2 not met, 1 not shown.')
    expect(page).not.toContain('undecided')
    expect(page.match(/Not shown: proved neither way/g)).toHaveLength(1)
    expect(page.match(/by pixels: /g)).toHaveLength(5)
  })

  it('prints both figures of a promise by the same marks, whatever its mark shows as held', async () => {
    const results = inventedResults()
    const distinct = { value: 77.7, low: 70.1, high: 83.3 }
    const promise = { ...results.promises[3]!, reference: null, decidedBy: 'plate', onOtherBasis: distinct }
    const page = await text({ ...results, promises: [promise] })
    expect(page).toContain('every reference')
    expect(page).toMatch(/77\.7/)
    expect(page).toMatch(/70\.1 to 83\.3/)
  })

  it('stands the numbers of the promises in one row between the axis and everything measured', async () => {
    const results = inventedResults()
    const pages = pageWords(await sheetOf(results))
    const words = pages[0]!.words
    const plotTop = words.find(({ text: word }) => word === 'Density')!.yMin
    const inPlot = words.filter(({ yMin }) => yMin > plotTop)
    const axis = Math.max(...inPlot.filter(({ text: word }) => word === 'm').map(({ yMin }) => yMin))
    const flags = inPlot.filter(
      ({ text: word, yMin, xMin }) =>
        /^[1-5]$/.test(word) && yMin > axis - 24 && yMin < axis - 6 && xMin > 80,
    )
    expect(flags.map(({ text: word }) => word).sort()).toEqual(['1', '2', '3', '4', '5'])
    expect(spread(flags)).toBeLessThan(0.5)
    // The least density label of the other axis stands above them: the scale ends above the row.
    const ticks = inPlot.filter(({ text: word, xMax }) => /^[1-9]\d*$/.test(word) && xMax < 78 && xMax > 60)
    expect(ticks.length).toBeGreaterThan(1)
    for (const { yMax } of ticks) expect(yMax).toBeLessThan(flags[0]!.yMax)
  })

  it('says in the key that marks at one distance stand side by side, only where they do', async () => {
    const words = 'marks at one distance stand side by side'
    expect(await text(inventedResults())).toContain(words)
    expect(await text(inventedResults({ lights: ['day'], references: { board: [0.6, 0.4] } }))).not.toContain(
      words,
    )
  })

  it('of a walk judged by pixels claims no detail that was not measured, and one grade', async () => {
    const results = inventedResults({ judge: 'pixels' })
    const marks = results.marks.map((mark) => ({ ...mark, effectiveDensity: null }))
    const whole = await text({ ...results, marks }, [])
    expect(whole).not.toMatch(/with detail|by pixels: /i)
    expect(whole).toMatch(/Grade, by pixels/)
    const measured = await text(results, [])
    expect(measured).toMatch(/px\/m with detail/)
    expect(measured).not.toMatch(/Grade with detail|With detail, holds to/)
  })

  it('names the version of the method as one', async () => {
    expect(await text(inventedResults(), [])).toContain('Method version 1;')
  })
})

function spread(words: readonly PdfWord[]): number {
  return Math.max(...words.map(({ yMin }) => yMin)) - Math.min(...words.map(({ yMin }) => yMin))
}
