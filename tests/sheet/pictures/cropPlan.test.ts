import { expect, it } from 'vitest'
import { cropPlan } from '../../../src/sheet/pictures/cropPlan.js'
import { cropPlacement } from '../../../src/sheet/pictures/pictureCell.js'
import { stillScalePxPerM } from '../../../src/sheet/pictures/referenceExtent.js'
import { expectNear } from '../../nearly.js'
import { inventedResults } from '../inventedResults.js'

const cellsOf = (tables: ReturnType<typeof cropPlan>) =>
  tables.map((table) => ({
    table,
    cells: table.rows.flatMap((row) => row.cells.flatMap((cell) => (cell === null ? [] : [cell]))),
  }))

it('cuts every picture of a table at one physical scale, near and far', () => {
  const [one] = cellsOf(cropPlan(inventedResults()))
  expect(one!.cells).toHaveLength(18)
  for (const { still, window } of one!.cells) {
    const scale = stillScalePxPerM(still)
    expectNear(window.width / scale, one!.table.windowWidthM, { rel: 1e-9 }, 'metres across')
    expectNear(window.height / scale, one!.table.windowHeightM, { rel: 1e-9 }, 'metres high')
  }
})

it('holds the whole reference in every picture', () => {
  for (const { cells } of cellsOf(cropPlan(inventedResults()))) {
    for (const { still, window } of cells) {
      for (const [x, y] of still.corners) {
        expect(x > window.left && x < window.left + window.width).toBe(true)
        expect(y > window.top && y < window.top + window.height).toBe(true)
      }
    }
  }
})

it('gives references of much different size a table each, and similar ones a common table', () => {
  const results = inventedResults({
    lights: ['day'],
    references: { staff: [0.05, 2], board: [0.6, 0.4], plate: [0.52, 0.11] },
    marksM: [4, 8],
  })
  expect(cropPlan(results).map(({ columns }) => columns.map(({ reference }) => reference))).toEqual([
    ['staff'],
    ['board', 'plate'],
  ])
})

it('stands lights in the walk’s order and marks nearest first', () => {
  const [table] = cropPlan(
    inventedResults({
      lights: ['lamp', 'dark', 'day'],
      references: { board: [0.6, 0.4] },
      marksM: [9, 4, 16],
    }),
  )
  expect(table!.columns.map(({ light }) => light)).toEqual(['lamp', 'dark', 'day'])
  expect(table!.rows.map(({ distanceM }) => distanceM)).toEqual([4, 9, 16])
})

it('keeps the region within the still and the picture in its true place where the window reaches beyond', () => {
  const results = inventedResults({ lights: ['day'], references: { board: [0.6, 0.4] }, marksM: [4] })
  const still = results.stills[0]!
  const shiftX = Math.min(...still.corners.map(([x]) => x))
  const moved = { ...still, corners: still.corners.map(([x, y]): [number, number] => [x - shiftX, y]) }
  const [table] = cropPlan({ ...results, stills: [moved] })
  const { window, region } = table!.rows[0]!.cells[0]!
  expect(window.left).toBeLessThan(0)
  expect(region!.left).toBe(0)
  const place = cropPlacement(window, region!, {
    widthPt: 100,
    heightPt: (100 * window.height) / window.width,
  })
  expectNear(place.left, (-window.left / window.width) * 100, { abs: 1e-9 }, 'points left blank')
  expectNear(place.width / region!.width, 100 / window.width, { rel: 1e-9 }, 'points per pixel')
})

it('takes the first still by name of several at one mark, and counts them', () => {
  const results = inventedResults({
    lights: ['day'],
    references: { board: [0.6, 0.4] },
    marksM: [4],
    stillsPerMark: 3,
  })
  const [table] = cropPlan({ ...results, stills: [...results.stills].reverse() })
  const cell = table!.rows[0]!.cells[0]!
  expect(cell.stillCount).toBe(3)
  expect(cell.still.file).toBe([...results.stills].map(({ file }) => file).sort()[0])
})

it('plans nothing where nothing was measured', () => {
  expect(cropPlan(inventedResults({ failAll: true }))).toEqual([])
})

it('a still that was not measured has its place in the table, where nothing better is to be shown there', () => {
  const results = inventedResults()
  const [still] = results.stills
  const { light, reference } = still!
  const place = { light, reference, sha256: null }
  const failed = [
    { file: 'stills/a/99m.jpg', code: 'chart-none', message: 'no chart was found', ...place, distance: 99 },
    { file: 'stills/a/98m.jpg', code: 'no-pick', message: 'has no place', distance: null },
  ]
  const [table] = cropPlan({ ...results, failed })
  const row = table!.rows.at(-1)!
  const column = table!.columns.findIndex((one) => one.light === light && one.reference === reference)
  expect(row.distanceM).toBe(99)
  expect(row.failed[column]?.file).toBe('stills/a/99m.jpg')
  expect([...row.cells, ...row.failed].filter((cell) => cell !== null)).toHaveLength(1)
})
