import { describe, expect, it } from 'vitest'
import { combineRepeats } from '../../../src/grade/marks/combineRepeats.js'
import { hearCourt } from '../../../src/grade/court/hearCourt.js'
import { fittedMarks } from '../../../src/grade/range/fitRange.js'
import { expectNear } from '../../nearly.js'
import { wilson } from '../../support/riskCurves.js'
import { MARK_SETS, type WalkClass } from '../../support/riskWalk.js'
import { hearCell, WRONG_CELLS } from '../../support/wrongWalks.js'
import { stillOf, type StillParts } from '../stillOf.js'

// A small part of `node bench/run.js causes`, whose kept result has every cell.
const WALKS = 60
const [, FOUR, SIX, EIGHT] = MARK_SETS

const heard = (name: string, walkClass: WalkClass, marksM = SIX!, walks = WALKS) => {
  const cell = WRONG_CELLS.find((one) => one.name === name)!
  return { ...hearCell(cell, walkClass, marksM, walks, 11), right: cell.right }
}

describe('the court of causes', () => {
  const strong: [string, WalkClass, readonly number[]][] = [
    ['start -0.30 m', 'clicked', SIX!],
    ['start +0.20 m', 'snapped', SIX!],
    ['start +0.50 m', 'clicked', FOUR!],
    ['zoomed 15 %', 'clicked', FOUR!],
    ['moved 0.40 m', 'clicked', SIX!],
    ['size 3 %', 'two references', SIX!],
    ['aspect 1.7 %', 'clicked', EIGHT!],
    ['aspect 1.7 %', 'clicked', SIX!],
    ['aspect 1.1 %', 'snapped', SIX!],
    ['one mark -0.4 m', 'clicked', SIX!],
    ['enlarged 1.25 on', 'clicked', SIX!],
  ]

  it.each(strong)('names "%s", %s, first in 9 of 10', (name, walkClass, marksM) => {
    const { first, right } = heard(name, walkClass, marksM)
    const told = right.reduce((sum, kind) => sum + (first[kind] ?? 0), 0)
    expect(told / WALKS).toBeGreaterThanOrEqual(0.9)
  })

  it.each(['clicked', 'snapped', 'two references'] as const)(
    'is silent on %s walks with nothing wrong',
    (walkClass) => {
      const { first, goodBlamed, walks } = heard('none', walkClass, SIX, 2 * WALKS)
      expect(wilson(first['-']!, walks)[1]).toBeGreaterThanOrEqual(0.97)
      expect(first['-']! / walks).toBeGreaterThanOrEqual(0.95)
      expect(goodBlamed / walks).toBeLessThan(0.02)
    },
  )

  it('does not blame a good mark for rough hands or a tape measure that starts elsewhere', () => {
    for (const name of ['rougher 2x', 'start -0.30 m', 'start +0.20 m'])
      expect(heard(name, 'clicked', FOUR).goodBlamed / WALKS, name).toBeLessThan(0.04)
  })
})

describe('the court of causes, on figures that a test chooses', () => {
  const MARKS = [4, 6, 9, 12, 16, 20]
  const causes = (parts: readonly StillParts[]) => {
    const series = ['day', 'infrared'].map((light) => parts.filter((part) => (part.light ?? 'day') === light))
    const conditions = { distanceToleranceM: 0.05, lensKnown: true }
    return hearCourt(
      series.flatMap((each) => fittedMarks(combineRepeats(each.map(stillOf)), conditions)),
      true,
    )
  }
  const walk = (density: (distanceM: number) => number, marksM = MARKS): StillParts[] =>
    marksM.map((distanceM) => ({ distanceM, horizontal: density(distanceM) }))

  it('tells where a tape begins, with an interval', () => {
    const [[start]] = causes(walk((d) => 2000 / (d + 0.4))) as unknown as [
      [{ kind: string; size: number; u: number }],
    ]
    expect(start.kind).toBe('start')
    expectNear(start.size, 0.4, { rel: 0.02 })
    expect(start.u).toBeGreaterThan(0.03)
    expect(start.u).toBeLessThan(0.1)
  })

  it('hears one mark, two, none and all at one distance without a fall', () => {
    expect(causes([])).toEqual([])
    expect(causes(walk((d) => 2000 / d, [4]))).toEqual([])
    expect(causes(walk((d) => 2000 / d, [4, 9]))).toEqual([])
    const one = [1, 1.01, 0.99, 1.02].map((by, i) => ({
      distanceM: 4,
      horizontal: 500 * by,
      file: `${i}.png`,
    }))
    expect(causes(one)).toEqual([])
  })

  it('blames no mark with under four, and tells no start with under three', () => {
    const kinds = (marksM: number[]) =>
      causes(walk((d) => 2000 / (d === 9 ? 11 : d), marksM)).flatMap((found) => found.map(({ kind }) => kind))
    expect(kinds([4, 9, 16])).not.toContain('mark')
    expect(kinds([4, 9])).not.toContain('start')
    expect(kinds(MARKS)).toEqual(['mark'])
  })

  it('lets a turn that the corners show explain before pixels: a camera that looks down on near marks', () => {
    const down = MARKS.map((d) => ({
      distanceM: d,
      horizontal: 2100 / d,
      vertical: (2100 / d) * Math.cos(Math.asin(1.8 / d)),
    }))
    expect(causes(down)).toEqual([])
  })

  it('hears 200 marks in half a second', () => {
    const marksM = Array.from({ length: 200 }, (_, i) => 3 + 0.1 * i)
    const parts = walk((d) => 2000 / (d + 0.3), marksM)
    causes(parts)
    const began = performance.now()
    const found = causes(parts)
    const took = performance.now() - began
    expect(found[0]![0]!.kind).toBe('start')
    console.log(`200 marks: ${took.toFixed(0)} ms`)
    expect(took).toBeLessThan(500)
  })
})
