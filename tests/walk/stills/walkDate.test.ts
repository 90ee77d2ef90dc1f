import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import sharp from 'sharp'
import { describe, expect, test } from 'vitest'
import { measureWalk, readWalk } from '../../../src/index.js'
import { differingFields } from '../../../src/walk/measure/differingFields.js'
import { judgeAgain } from '../../../src/walk/measure/judgeAgain.js'
import { planMeasuring } from '../../../src/walk/measure/planMeasuring.js'
import { type DatedStill, dateOfWalk } from '../../../src/walk/stills/walkDate.js'
import { boardCorners, boardStill, put, putPicks, smallWalkYaml } from '../../journeys/smallWalk.js'
import { temporaryWalk } from '../temporaryWalk.js'

function still(file: string, takenAt: string | null = null, sameAs: string | null = null): DatedStill {
  return { file, light: file.split('/')[1]!, takenAt, sameAs }
}

const NIGHT = ['stills/dark/4m 20260315-001211.jpg', 'stills/dark/6m 20260315001502.jpg'] as const

describe('the date of a walk', () => {
  test.each<[string, string | null, DatedStill[], string | null, 'walk' | 'stills' | null, number]>([
    ['nothing tells it', null, [still('stills/day/4m.jpg'), still('stills/day/6m.jpg')], null, null, 0],
    ['walk.yaml alone', '2026-03-14', [still('stills/day/4m.jpg')], '2026-03-14', 'walk', 0],
    ['names agree', null, NIGHT.map((file) => still(file)), '2026-03-15', 'stills', 0],
    [
      'a name and a clock of two stills agree',
      null,
      [still(NIGHT[0]), still('stills/day/6m.jpg', '2026-03-15T11:02:00')],
      '2026-03-15',
      'stills',
      0,
    ],
    ['one still alone', null, [still(NIGHT[0], '2026-03-15T00:12:11')], null, null, 0],
    ['one picture twice', null, [still(NIGHT[0]), still(NIGHT[1], null, NIGHT[0])], null, null, 0],
    [
      'a clock that was never set',
      null,
      [still(NIGHT[0], '2000-01-01T00:00:07'), still(NIGHT[1])],
      null,
      null,
      1,
    ],
    [
      'two lights of two days, both told',
      null,
      [...NIGHT.map((file) => still(file)), still('stills/day/4m_2026-03-14.jpg')],
      null,
      null,
      2,
    ],
    [
      'walk.yaml against one light',
      '2026-03-14',
      [...NIGHT.map((file) => still(file)), still('stills/day/4m_2026-03-14.jpg')],
      '2026-03-14',
      'walk',
      1,
    ],
    [
      'numbers that are no date',
      null,
      ['4m 20261399.jpg', '6m 2026-0314.jpg', '9m 120260314.jpg', '9m 20260230.jpg'].map((name) =>
        still(`stills/day/${name}`),
      ),
      null,
      null,
      0,
    ],
  ])('%s', (_title, written, stills, date, dateFrom, findings) => {
    const dated = dateOfWalk(written, stills)
    expect([dated.date, dated.dateFrom, dated.findings.length]).toEqual([date, dateFrom, findings])
  })

  test('a contradiction says which light, which days, and by what', () => {
    const stills = [still(NIGHT[0], '2000-01-01T00:00:07'), still(NIGHT[1])]
    const { findings } = dateOfWalk('2026-03-14', stills)
    expect(findings).toEqual([
      {
        code: 'dates-differ',
        light: 'dark',
        message:
          'the stills in dark say 2000-01-01 (1 clock time) and 2026-03-15 (2 names), walk.yaml says 2026-03-14; check the clock, and write the right date into walk.yaml',
      },
    ])
  })
})

test('clocks of stills reach the results, and the walk judged again from them has the same date', async () => {
  const yaml = smallWalkYaml().replace(/^date.*\n/m, '')
  const dir = await temporaryWalk({ 'walk.yaml': yaml })
  const files = [4, 6, 9].map((distance) => ({ distance, file: `stills/day/${distance}m.jpg` }))
  for (const { distance, file } of files) {
    const plain = sharp(await boardStill(distance, 'png', distance))
    const taken = `2026:03:14 10:0${distance}:00`
    await put(
      dir,
      file,
      await plain
        .withExif({ IFD2: { DateTimeOriginal: taken } })
        .jpeg()
        .toBuffer(),
    )
  }
  await putPicks(
    dir,
    files.map(({ distance, file }) => ({ file, corners: boardCorners(distance) })),
  )
  const walk = await readWalk(dir)
  const results = await measureWalk(walk, { workers: 1, scene: false })
  expect([results.walk.date, results.walk.dateFrom]).toEqual(['2026-03-14', 'stills'])
  expect(results.stills.map(({ takenAt }) => takenAt)).toEqual([
    '2026-03-14T10:04:00',
    '2026-03-14T10:06:00',
    '2026-03-14T10:09:00',
  ])
  expect(differingFields(results, await judgeAgain(walk, await planMeasuring(walk), results))).toEqual([])
  expect(await readFile(join(dir, 'walk.yaml'), 'utf8')).toBe(yaml)
})
