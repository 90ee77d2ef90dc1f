import { caseRows } from '../../support/caseRows.js'
import { takeCase } from '../../support/caseStill.js'
import { chartPaper } from '../../../src/chart/printed/chartPapers.js'
import { builtInGrading } from '../../../src/grade/gradings/builtInGradings.js'
import { seededRandom } from '../../../src/math/random.js'
import { chartReference } from '../../../src/measure/reference/chartReference.js'
import { measureSingle } from '../../../src/walk/measure/measureSingle.js'
import { temporaryWalk } from '../temporaryWalk.js'
import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'

const paper = chartPaper('A1')!

/** What is told of one still of a row of the table of bad inputs: the code it fails with, or the codes of its problems and how far off it is, in U. */
async function told(name: string, pixelsPerModule: number, n: number) {
  const row = caseRows().find((one) => one.name === name)!
  const random = seededRandom(1000 * pixelsPerModule + n)
  const turned = { yawDeg: 12, pitchDeg: -5, rollDeg: 6 }
  const { view, spoilt } = row.make({ paper, pixelsPerModule, ...turned }, n, random)
  const { bytes, truth } = await takeCase(view, spoilt, random)
  const path = join(await temporaryWalk({}), 'still.jpg')
  await writeFile(path, bytes)
  const measured = await measureSingle({
    path,
    subject: { kind: 'chart', charts: [chartReference('chart', paper, null)], elseMend: null },
    distanceM: truth.distanceM,
    grading: builtInGrading('iec-62676-4-2014')!,
    judge: 'detail',
  })
  if (!measured.ok) return { failed: measured.code, problems: [], offOverU: 0 }
  const { horizontal, horizontalU, vertical, verticalU } = measured.value.density
  const offOverU = Math.max(
    Math.abs(horizontal! - truth.horizontalPxPerM) / horizontalU!,
    Math.abs(vertical! - truth.verticalPxPerM) / verticalU!,
  )
  return { failed: null, problems: measured.value.problems.map(({ code }) => code), offOverU }
}

describe('what is told of charts that are held wrongly', () => {
  // Before what lies around a hand was left out too, such hands moved densities by 2 to 4 U without a word.
  test.each([
    ['a hand of 2 modules over a corner', 5, 1],
    ['a hand of 2 modules over a corner', 3, 3],
    ['a glove of 1.5 modules over a side', 5, 0],
    ['a glove of 1.5 modules over a side', 7, 1],
  ])('%s at %s px a module, still %s: measured within U, and told', async (name, size, n) => {
    const { failed, problems, offOverU } = await told(name, size, n)
    console.log(
      `${name}, ${size} px: ${failed ?? `off by ${offOverU.toFixed(2)} of U`} ${problems.join(' ')}`,
    )
    expect(failed).toBeNull()
    expect(problems).toContain('chart-part-covered')
    expect(offOverU).toBeLessThan(1.2)
  })

  test.each([
    ['cut by a side, 1 modules', 5, 0],
    ['cut by a side, 3 modules', 3.5, 3],
    ['cut by a corner, 1.5 modules each way', 10, 2],
  ])('%s at %s px a module, still %s: not found', async (name, size, n) => {
    expect((await told(name, size, n)).failed).toBe('chart-none')
  })
})
