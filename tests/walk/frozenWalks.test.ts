import { readdirSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import { figureChanges } from '../../fixtures/walks/figureChanges.js'
import { measureWalk, readWalk, type WalkResults } from '../../src/index.js'
import { differingFields } from '../../src/walk/measure/differingFields.js'
import { judgeAgain } from '../../src/walk/measure/judgeAgain.js'
import { planMeasuring } from '../../src/walk/measure/planMeasuring.js'

const FROZEN = fileURLToPath(new URL('../../fixtures/walks', import.meta.url))
const RENEW = 'renew the frozen results with: npm run build && node fixtures/walks/renew.js'
const walks = readdirSync(FROZEN, { withFileTypes: true }).flatMap((entry) =>
  entry.isDirectory() ? [entry.name] : [],
)

test('there are frozen walks to measure', () => {
  expect(walks.length).toBeGreaterThanOrEqual(4)
})

// The expected figures are recorded, no outside truth: they hold the measuring still until its version says that it changed.
test.each(walks)('%s measures as recorded, or under another method version', async (name) => {
  const dir = join(FROZEN, name)
  const frozen = JSON.parse(readFileSync(join(dir, 'results.json'), 'utf8')) as { readonly method: string }
  const walk = await readWalk(dir)
  const results = await measureWalk(walk, { workers: 1 })
  expect(results.stills.length, 'stills that were measured').toBeGreaterThan(0)
  expect(results.method, `the method version changed: ${RENEW}`).toBe(frozen.method)
  expect(figureChanges(frozen, results), `figures changed: raise METHOD_VERSION, then ${RENEW}`).toEqual([])
  // Judged again from what was written, it comes out the same to the last digit.
  const written = fromFile(results)
  const again = await judgeAgain(walk, await planMeasuring(walk), written)
  expect(fromFile(again)).toEqual(written)
  expect(differingFields(written, again)).toEqual([])
})

/** As a reader finds them in their file. */
function fromFile(results: WalkResults): WalkResults {
  return JSON.parse(JSON.stringify(results)) as WalkResults
}

describe('what counts as a change of the frozen results', () => {
  const frozen = { stills: [{ density: { low: 182.4631 }, grade: 'observe', why: 'so' }], projection: null }
  const changed = (stills: unknown, more: object = { projection: null }): string[] =>
    figureChanges(frozen, { stills, ...more })

  test('a density that moves by 1e-5 does, by the last of its digits does not', () => {
    expect(changed([{ density: { low: 182.4631 * (1 + 1e-5) }, grade: 'observe', why: 'so' }])).toHaveLength(
      1,
    )
    expect(changed([{ density: { low: 182.4632 }, grade: 'observe', why: 'so' }])).toEqual([])
  })

  test('another grade, a still more or less, a figure that came or went does', () => {
    const still = frozen.stills[0]!
    expect(changed([{ ...still, grade: 'detect' }])).toEqual(['/stills/0/grade: "observe" -> "detect"'])
    expect(changed([])).toHaveLength(1)
    expect(changed([still, still])).toEqual(['/stills: 1 entries -> 2'])
    expect(changed([{ ...still, density: null }])).toHaveLength(1)
    expect(changed([still], { projection: { p: 1 } })).toHaveLength(1)
    expect(changed([still], {})).toHaveLength(1)
  })

  test('other words and a new key do not', () => {
    expect(changed([{ ...frozen.stills[0]!, why: 'because', bound: null }])).toEqual([])
  })
})
