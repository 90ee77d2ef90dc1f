import sharp from 'sharp'
import { expect, test } from 'vitest'
import { stillsApart } from '../../../src/grade/marks/seriesSize.js'
import { measureWalk, readWalk, type WalkResults } from '../../../src/index.js'
import { differingFields } from '../../../src/walk/measure/differingFields.js'
import { judgeAgain } from '../../../src/walk/measure/judgeAgain.js'
import { planMeasuring } from '../../../src/walk/measure/planMeasuring.js'
import { comparableWalk } from '../../../src/walk/site/comparableWalk.js'
import { boardCorners, boardStill, put, putPicks, smallWalkYaml } from '../../journeys/smallWalk.js'
import { temporaryWalk } from '../temporaryWalk.js'

/** A still of the small walk's board, scaled (a screenshot) or cut on its left, px. */
interface Exported {
  readonly file: string
  readonly distanceM: number
  readonly scale?: number
  readonly cutPx?: number
}

const THREE: readonly Exported[] = [4, 6, 9].map((distanceM) => ({
  file: `stills/day/${distanceM}m.png`,
  distanceM,
}))
const SCREENSHOT: Exported = { file: 'stills/day/12m.png', distanceM: 12, scale: 0.75 }
const UNTOLD = smallWalkYaml().replace(/ +image: .*\n/, '')

async function measured(stills: readonly Exported[], yaml = smallWalkYaml()): Promise<WalkResults> {
  const dir = await temporaryWalk({ 'walk.yaml': yaml })
  for (const { file, distanceM, scale = 1, cutPx = 0 } of stills) {
    const still = sharp(await boardStill(distanceM, 'png', distanceM))
    const [width, height] = [1280 * scale, 720 * scale]
    await put(
      dir,
      file,
      await (
        cutPx > 0
          ? still.extract({ left: cutPx, top: 0, width: width - cutPx, height })
          : still.resize(width, height)
      )
        .png()
        .toBuffer(),
    )
  }
  await putPicks(
    dir,
    stills.map(({ file, distanceM, scale = 1, cutPx = 0 }) => ({
      file,
      corners: boardCorners(distanceM).map(([x, y]): [number, number] => [x * scale - cutPx, y * scale]),
    })),
  )
  const walk = await readWalk(dir)
  const results = await measureWalk(walk, { workers: 1, scene: false })
  expect(differingFields(results, await judgeAgain(walk, await planMeasuring(walk), results))).toEqual([])
  return results
}

/** All figures of the walk but what is said of the still that stands apart and of its mark. */
function figuresBut(
  { stills, marks, ranges, lens, promises, projection, findings }: WalkResults,
  file: string,
) {
  return {
    stills: stills.filter((still) => still.file !== file),
    marks: marks.filter(({ why }) => !why.startsWith('left out')),
    ranges,
    lens,
    promises: promises.map(({ why, ...rest }) => ({
      ...rest,
      why: why.replace(/no still that counts/, 'no measured still'),
    })),
    projection,
    findings: findings.filter(({ code }) => code !== 'export-sizes-differ'),
  }
}

const PROMISED = smallWalkYaml().replace(
  'at: 9 m, light: day }',
  'at: 9 m, light: day }\n  - { grade: detect, at: 12 m, light: day }',
)

// Such a still used to make +-0.8 % of its series +-9 to 42 %.
test.each([
  ['a screenshot at three quarters', SCREENSHOT, '960 x 540 px'],
  ['one at exactly half the size', { ...SCREENSHOT, scale: 0.5 }, '640 x 360 px'],
  ['a crop, though it keeps the scale', { ...SCREENSHOT, scale: 1, cutPx: 160 }, '1120 x 720 px'],
])(
  '%s is shown at its mark with the reason, and every other figure is as if it were not there',
  async (_, odd, size) => {
    const [alone, joined] = [await measured(THREE, PROMISED), await measured([...THREE, odd], PROMISED)]
    expect(figuresBut(joined, odd.file)).toEqual(figuresBut(alone, odd.file))
    const mark = joined.marks.find(({ distance }) => distance === 12)!
    expect(mark).toMatchObject({ leftOut: true, stills: 1 })
    expect(mark.why).toContain(`left out: it has ${size}, the series of day has 1280 x 720 px`)
    const still = joined.stills.find(({ file }) => file === odd.file)!
    expect(still.problems.map(({ code }) => code)).toContain('other-size')
    expect(joined.findings.find(({ code }) => code === 'export-sizes-differ')?.message).toContain(
      `Not counted, as their size differs from the series of their light: ${odd.file}`,
    )
    // The promise at its mark is answered from the others.
    expect(joined.promises[1]!.value).toBeCloseTo(100, 0)
    expect(joined.promises[1]!.why).toContain('no still that counts at 12 m')
    // Two walks are compared without it.
    expect(comparableWalk(joined).marks).toEqual(comparableWalk(alone).marks)
    expect(comparableWalk(joined).stillSizes).toEqual(['1280 x 720'])
  },
)

test('beside a still of the series at its mark, that still alone makes the mark', async () => {
  const odd = { file: 'stills/day/9m b.png', distanceM: 9, scale: 0.75 }
  const [alone, joined] = [await measured(THREE), await measured([...THREE, odd])]
  expect(figuresBut(joined, odd.file)).toEqual(figuresBut(alone, odd.file))
  expect(joined.marks).toEqual(alone.marks)
})

test('a wrong tape among the others is named all the same', async () => {
  // The still called 7 m was taken at 8 m.
  const wrong = [
    ...THREE,
    { file: 'stills/day/3m.png', distanceM: 3 },
    { file: 'stills/day/7m.png', distanceM: 8 },
    { file: 'stills/day/10.5m.png', distanceM: 10.5 },
  ]
  const { lens, marks } = await measured([...wrong, SCREENSHOT])
  expect(lens[0]?.suspect?.distance).toBe(7)
  expect(marks.filter(({ leftOut }) => leftOut).map(({ distance }) => distance)).toEqual([7, 12])
})

test('where as many stills have one size as another and walk.yaml gives none, none counts, and the promise says why', async () => {
  const stills = [THREE[0]!, THREE[1]!, { ...THREE[2]!, scale: 0.75 }, SCREENSHOT]
  const untold = await measured(stills, UNTOLD)
  expect(untold.marks.map(({ distance, leftOut }) => [distance, leftOut])).toEqual([
    [4, true],
    [6, true],
    [9, true],
    [12, true],
  ])
  expect(untold.ranges).toEqual([])
  expect(untold.promises[0]).toMatchObject({ verdict: 'not shown', byPixels: 'not shown', value: null })
  expect(untold.promises[0]!.why).toMatch(/^no still of it counts: left out: as many stills of day have /)
  const told = await measured(stills)
  expect(told.marks.map(({ distance, leftOut }) => [distance, leftOut])).toEqual([
    [4, false],
    [6, false],
    [9, true],
    [12, true],
  ])
})

const still = (file: string, light: string, width: number) => ({
  file,
  light,
  measurement: { width, height: (width * 9) / 16 },
})
const apart = (stills: ReturnType<typeof still>[], told: number | null = null): string[] =>
  [...stillsApart(stills, told === null ? null : { width: told, height: (told * 9) / 16 }).keys()].sort()

test('each light has a size of its own, one still of two references votes once, and a tie is settled by the walk', () => {
  const day = [still('a', 'day', 1920), still('b', 'day', 1920), still('c', 'day', 1440)]
  const dark = [still('d', 'dark', 1440), still('e', 'dark', 1440)]
  expect(apart(dark)).toEqual([])
  expect(apart([...day, ...dark])).toEqual(['c'])
  expect(apart([still('c', 'day', 1440), ...day.slice(1)])).toEqual(['b', 'c'])
  expect(apart([still('c', 'day', 1440), ...day.slice(1), ...dark])).toEqual(['b'])
  expect(apart(day, 1440)).toEqual(['a', 'b'])
  expect(apart(day, 2560)).toEqual(['c'])
})
