import { withMend } from '../../../src/sentences.js'
import { describe, expect, test } from 'vitest'
import { measureTable } from '../../../src/cli/measure/measureTable.js'
import { stillTable } from '../../../src/cli/measure/stillTable.js'
import { builtInGrading } from '../../../src/grade/gradings/builtInGradings.js'
import type { GradePromise, JudgedStill } from '../../../src/grade/judgement.js'
import { judgeWalk } from '../../../src/grade/judgeWalk.js'
import { type Random, seededRandom } from '../../../src/math/random.js'
import { FOOT_M, type UnitSystem } from '../../../src/units/formatLength.js'
import { roundNumbers } from '../../../src/units/roundNumbers.js'
import type { WalkResults } from '../../../src/walk/schemas/resultsSchema.js'
import { BOARD, PLATE, simulateWalk } from '../../grade/simulatedWalk.js'
import { stillOf } from '../../grade/stillOf.js'
import { inventedResults } from '../../sheet/inventedResults.js'

const GRADING = builtInGrading('iec-62676-4-2014')!
const MARKS_M = [4, 6, 9, 12, 16, 20]

interface DrawnWalk {
  readonly stills: readonly JudgedStill[]
  readonly judge: 'pixels' | 'detail'
  readonly units: UnitSystem
  readonly promises: readonly GradePromise[]
}

/** The results of a walk, as its file keeps them. */
function resultsOf({ stills, judge, units, promises }: DrawnWalk): WalkResults {
  const judgement = judgeWalk({
    stills,
    judge,
    units,
    promises,
    grading: GRADING,
    lights: ['day'],
    references: ['board', 'plate'],
    observations: [],
    distanceToleranceM: 0.05,
    lensKnown: false,
    promisedLens: null,
  })
  const shape = inventedResults({ imperial: units === 'imperial', judge, promises: false })
  return { ...shape, ...roundNumbers(judgement), grading: GRADING } as unknown as WalkResults
}

/** A walk of corners that were clicked, or of densities with detail, often close to a limit; now and then with a wrong tape. */
function drawWalk(random: Random, draw: number): DrawnWalk {
  const pick = <One>(of: readonly One[]): One => of[Math.floor(random.uniform() * of.length)]!
  const marksM = MARKS_M.slice(0, 2 + Math.floor(random.uniform() * 5))
  const units = draw % 2 === 0 ? 'metric' : 'imperial'
  const grades = GRADING.grades.filter(({ id }) => ['observe', 'recognise', 'identify'].includes(id))
  const [grade, atM] = [pick(grades), pick(marksM)]
  const beside = 1 + (random.uniform() < 0.5 ? -1 : 1) * 10 ** (-1 - 4 * random.uniform())
  const pixelsPerRadian = grade.limit * atM * beside
  const promises = [
    { grade: grade.id, distanceM: atM, light: 'day' },
    { grade: grade.id, distanceM: atM * (0.8 + 0.4 * random.uniform()), light: 'day' },
    { grade: pick(grades).id, distanceM: pick(marksM), light: 'day' },
  ]
  const wrong = random.uniform() < 0.2 ? { index: marksM.length - 2, ratio: 1.15 } : undefined
  // Under that a plate's height is too few pixels to be clicked at the farthest mark.
  if (draw % 4 < 2 && pixelsPerRadian > 800) {
    const scene = { reference: pick([BOARD, PLATE]), marksM, pixelsPerRadian, tapeToleranceM: 0.05 }
    const { stills } = simulateWalk(wrong === undefined ? scene : { ...scene, wrong }, random)
    return { stills, judge: 'pixels', units, promises }
  }
  const [factor, cornersRel] = [0.7 + 0.3 * random.uniform(), 10 ** (-3 + 1.5 * random.uniform())]
  const stills = marksM.map((distanceM, index) => {
    const horizontal = pixelsPerRadian / distanceM / (wrong?.index === index ? wrong.ratio : 1)
    return stillOf({ distanceM, horizontal, vertical: horizontal * 1.02, factor, cornersRel })
  })
  return { stills, judge: 'detail', units, promises }
}

/** A row of a printed table with the sentence beneath it. */
interface PrintedRow {
  readonly row: string
  readonly note: string
}

/** The rows of the table under a title. */
function rowsUnder(table: string, title: string): PrintedRow[] {
  const lines = table.split('\n')
  const from = lines.findIndex((line) => line === title) + 3
  const to = lines.findIndex((line, index) => index >= from && line === '')
  return lines.slice(from, to).flatMap((row, index, all): PrintedRow[] => {
    if (/^ {6}\S.* \S/.test(row) && !/ {2}\S/.test(row.slice(6))) return []
    const next = all[index + 1] ?? ''
    return [{ row, note: /^ {6}\S/.test(next) && !/ {2}\S/.test(next.slice(6)) ? next.trim() : '' }]
  })
}

const FIGURE = String.raw`\d+(?:\.\d+)?`
const INTERVAL = new RegExp(`(${FIGURE}) to (${FIGURE})(?: {2}|$)`, 'g')

/** The intervals of a row of densities, in its order. */
function intervalsOf(row: string): [number, number][] {
  return [...row.matchAll(INTERVAL)].map(([, low, high]) => [Number(low), Number(high)])
}

/** An interval in print against its own: never narrower, and each end on its own side of everything it is held against. */
function expectOutward(
  [from, to]: readonly [number, number],
  low: number,
  high: number,
  limits: readonly number[],
): void {
  expect(from).toBeLessThanOrEqual(low * (1 + 1e-12))
  expect(to).toBeGreaterThanOrEqual(high * (1 - 1e-12))
  for (const limit of limits) {
    expect([from >= limit, to >= limit], `against ${limit}`).toEqual([low >= limit, high >= limit])
  }
}

describe('one voice for every figure', () => {
  const random = seededRandom(41)
  const told = { interval: 0, limit: 0, reach: 0, fits: 0, distance: 0 }

  test('240 drawn walks in metres and feet: a sentence says the figures of its row as the row does', () => {
    for (let draw = 0; draw < 240; draw += 1) {
      const results = resultsOf(drawWalk(random, draw))
      const isMetric = results.walk.units === 'metric'
      const perM = isMetric ? 1 : FOOT_M
      const exactly = (value: number): number => Number(value.toPrecision(12))
      const limits = GRADING.grades.map(({ limit }) => exactly(limit * perM))
      const table = measureTable(results)
      const place = `day, ${results.marks[0]!.reference}`
      const marks = rowsUnder(table, place)
      const reaches = /How far each grade holds.*?(?=\nFound on|$)/s.exec(table)![0]
      const taped = marks.map(({ row }) => row.trim().split(/ {2,}/)[0]!)
      expect(marks).toHaveLength(results.marks.length)

      results.marks.forEach((mark, index) => {
        const { row, note } = marks[index]!
        const printed = intervalsOf(row)
        const own = mark.effectiveDensity === null ? [mark.density] : [mark.density, mark.effectiveDensity]
        expect(printed).toHaveLength(own.length)
        own.forEach(({ low, high }, which) =>
          expectOutward(printed[which]!, low! * perM, high * perM, limits),
        )
        const fits = /taken at ([\d.]+ (?:m|ft))/.exec(note)
        expect(fits !== null).toBe(mark.leftOut)
        if (fits === null) return
        told.fits += 1
        expect(table).toContain(
          `the ${taped[index]!} mark does not fit the others and is left out. Judging by them it was taken at ${fits[1]!} (`,
        )
      })

      const promises = rowsUnder(table, 'Promises')
      expect(promises).toHaveLength(results.promises.length)
      results.promises.forEach((promise, index) => {
        const { row, note } = promises[index]!
        expect(note).toBe(withMend(promise.why, promise.mend))
        if (promise.low !== null && promise.high !== null) {
          const [low, high] = [promise.low * perM, promise.high * perM]
          const printed = intervalsOf(row)[0]!
          expectOutward(printed, low, high, limits)
          const limit = exactly(promise.limit * perM)
          if (/px\//.test(note)) {
            const seen = printed[0] >= limit ? 'met' : printed[1] < limit ? 'not met' : 'not shown'
            expect(promise.verdict, note).toBe(seen)
          }
        }
        for (const [, interval] of note.matchAll(new RegExp(`(${FIGURE} to ${FIGURE}) px/`, 'g'))) {
          told.interval += 1
          expect(row).toContain(`  ${interval!}  `)
        }
        const limit = new RegExp(`(?:, |The limit, )(${FIGURE}[^,]*?)(?: needed|, lies)`).exec(note)?.[1]
        if (limit !== undefined) {
          told.limit += 1
          expect(`${row}  `).toContain(`  ${limit.replace(' px/m', '')}  `)
        }
        const others = note.replace(/taken at \S+/, '')
        for (const [, distance] of others.matchAll(/(?<!\S)([\d.]+ (?:m|ft))\b/g)) {
          told.distance += 1
          expect([row.trim().split(/ {2,}/)[1], ...taped]).toContain(distance)
        }
      })

      const perLength = isMetric ? 1 : 1 / FOOT_M
      const apart = results.promises.map(({ distance }) => exactly(distance * perLength))
      const printed = [...reaches.matchAll(/\((\S+) to (\S+)\)/g)]
      const stated = results.ranges.filter(
        ({ basis, distance }) => distance !== null && (basis === 'pixels' || results.walk.judge === 'detail'),
      )
      expect(printed).toHaveLength(stated.length)
      stated.forEach(({ low, high }, index) => {
        told.reach += 1
        const [, from, to] = printed[index]!
        expectOutward([Number(from), Number(to)], low! * perLength, high! * perLength, apart)
      })
    }
    for (const [what, count] of Object.entries(told)) expect(count, what).toBeGreaterThan(20)
  })
})

describe('figures that were told in two ways once', () => {
  /** The promise row of a walk with one mark at 16 m whose interval begins at `low`: its corners, tape and start are known to 1.73 %. */
  const promised = (low: number, units: UnitSystem): PrintedRow => {
    const cornersRel = 0.012
    const u = Math.hypot(cornersRel, 0.05 / Math.sqrt(3) / 16, 0.2 / 16)
    const horizontal = low * Math.exp(2 * u)
    const still = stillOf({ distanceM: 16, horizontal, cornersRel, factor: 1, factorU: 0 })
    const promises = [{ grade: 'recognise', distanceM: 16, light: 'day' }]
    return rowsUnder(
      measureTable(resultsOf({ stills: [still], judge: 'pixels', units, promises })),
      'Promises',
    )[0]!
  }

  test('an end just under the limit is printed under it, in column and sentence', () => {
    const { row, note } = promised(124.96, 'metric')
    expect(row).toContain('  129.4  124.9 to 134.0    125')
    expect(note).toMatch(/^124\.9 to 134\.0 px\/m at the 16 m mark\. The limit, 125, lies inside/)
  })

  test('an end that the results keep rounded is told as they keep it', () => {
    const { row, note } = promised(124.9 - 4e-9, 'metric')
    expect(row).toContain('  124.9 to 134.0  ')
    expect(note).toContain('124.9 to 134.0 px/m')
  })

  test('in feet as well, beside the distance', () => {
    const { row, note } = promised(124.9, 'imperial')
    expect(row).toMatch(/ {2}52\.49 ft .* {2}38\.0 to 40\.9 .* {2}125 \(38\.1 px\/ft\)$/)
    expect(note).toMatch(
      /^38\.0 to 40\.9 px\/ft at the 52\.49 ft mark\. The limit, 125 px\/m \(38\.1 px\/ft\)/,
    )
  })

  test('a tenth of a pixel per metre stands beside no uncertainty of 14', () => {
    const { stills, grading } = inventedResults({})
    const density = { ...stills[0]!.density, horizontal: 412.34, horizontalU: 13.9 }
    const table = stillTable({ ...stills[0]!, density }, grading)
    expect(table).toMatch(/along its width +412 px\/m +\u00b1 14 *$/m)
  })
})
