import sharp from 'sharp'
import { expect, it } from 'vitest'
import { maskCrop, maskCrops } from '../../../src/sheet/pictures/maskReference.js'
import type { SheetCrop } from '../../../src/sheet/input/sheetInput.js'
import type { StillEntry } from '../../../src/walk/schemas/resultsSchema.js'
import { inventedResults } from '../inventedResults.js'
import { inventedCrops } from '../inventedStills.js'

const results = inventedResults({ lights: ['day'], references: { plate: [0.52, 0.11] }, marksM: [4, 20] })

const PLATES = { maskPlates: true }

/** Grey levels along the reference's middle, from its left side to its right. */
async function alongMiddle(crop: SheetCrop, still: StillEntry): Promise<number[]> {
  const { data, info } = await sharp(crop.image).greyscale().raw().toBuffer({ resolveWithObject: true })
  const [a, b, c, d] = still.corners as [number, number][]
  const scale = info.width / crop.region.width
  return Array.from({ length: 200 }, (_, n) => {
    const u = 0.06 + (0.88 * n) / 199
    const mid = (p: [number, number], q: [number, number]): [number, number] => [
      (p[0] + q[0]) / 2,
      (p[1] + q[1]) / 2,
    ]
    const [left, right] = [mid(a!, d!), mid(b!, c!)]
    const x = (left[0] + u * (right[0] - left[0]) - crop.region.left) * scale
    const y = (left[1] + u * (right[1] - left[1]) - crop.region.top) * scale
    return data[(Math.floor(y) * info.width + Math.floor(x)) * info.channels]!
  })
}

/** The greatest step between points a stroke's width apart. */
const strokes = (levels: readonly number[]): number =>
  Math.max(...levels.slice(14).map((level, n) => Math.abs(level - levels[n]!)))

it('leaves no stroke of the plate standing out, near or far', async () => {
  for (const crop of await inventedCrops(results)) {
    const still = results.stills.find(({ file }) => file === crop.file)!
    expect(strokes(await alongMiddle(crop, still)), 'strokes before').toBeGreaterThan(80)
    expect(
      strokes(await alongMiddle(await maskCrop(crop, [still], PLATES), still)),
      'strokes after',
    ).toBeLessThan(14)
  }
})

it('leaves the picture away from the reference as it is', async () => {
  const [, far] = await inventedCrops(results)
  const still = results.stills.find(({ file }) => file === far!.file)!
  const corner = async (crop: SheetCrop): Promise<number[]> => [
    ...(await sharp(crop.image).extract({ left: 0, top: 0, width: 40, height: 30 }).raw().toBuffer()),
  ]
  expect(await corner(await maskCrop(far!, [still], PLATES))).toEqual(await corner(far!))
})

it('covers what lies beside a length, which may be the height of characters', async () => {
  const [near] = await inventedCrops(results)
  const still = results.stills.find(({ file }) => file === near!.file)!
  const [a, b, c, d] = still.corners as [number, number][]
  const middle = (p: [number, number], q: [number, number]): [number, number] => [
    (p[0] + q[0]) / 2,
    (p[1] + q[1]) / 2,
  ]
  const length = { ...still, corners: [middle(a!, b!), middle(d!, c!)] }
  expect(strokes(await alongMiddle(await maskCrop(near!, [length], PLATES), still))).toBeLessThan(14)
})

it('shows no picture at all whose reference is not known', async () => {
  const crops = await inventedCrops(results)
  expect(await maskCrops(crops, { ...results, stills: [] }, PLATES)).toEqual([])
})

it('shows no picture of a still on which another reference could not be measured, and so not be masked', async () => {
  const crops = await inventedCrops(results)
  const failed = [{ file: crops[0]!.file, code: 'not-convex', message: 'the corners cross' }]
  const shown = await maskCrops(crops, { ...results, failed }, PLATES)
  expect(shown.map(({ file }) => file)).toEqual(crops.slice(1).map(({ file }) => file))
})

it('masks a plate in the crop of the board above it, where both are known', async () => {
  const [near] = await inventedCrops(results)
  const plate = results.stills.find(({ file }) => file === near!.file)!
  const above = plate.corners.map(([x, y]): [number, number] => [x, y - 0.3 * plate.density.onTarget])
  const board = { ...plate, reference: 'board', corners: above }
  const ofBoard = { ...near!, reference: 'board' }
  const [without] = await maskCrops([ofBoard], { ...results, stills: [board] }, PLATES)
  expect(strokes(await alongMiddle(without!, plate)), 'the board alone known').toBeGreaterThan(80)
  const [both] = await maskCrops([ofBoard], { ...results, stills: [board, plate] }, PLATES)
  expect(strokes(await alongMiddle(both!, plate)), 'both known').toBeLessThan(14)
  expect(both!.reference).toBe('board')
})

it('blurs all but the plate where people are masked, and the plate as well where both are', async () => {
  const [near] = await inventedCrops(results)
  const still = results.stills.find(({ file }) => file === near!.file)!
  const { width, height } = await sharp(near!.image).metadata()
  const stripes = Buffer.from(Uint8Array.from({ length: width * height }, (_, n) => (n & 8 ? 230 : 20)))
  const image = await sharp(stripes, { raw: { width, height, channels: 1 } })
    .png()
    .toBuffer()
  const striped = { ...near!, image }
  const rim = async (crop: SheetCrop): Promise<number> =>
    strokes([...(await sharp(crop.image).greyscale().raw().toBuffer()).subarray(0, width)])
  const people = await maskCrop(striped, [still], { maskPlates: false, maskPeople: true })
  expect(strokes(await alongMiddle(people, still)), 'on the plate').toBeGreaterThan(150)
  expect([await rim(striped), (await rim(people)) < 14]).toEqual([210, true])
  const all = await maskCrop(striped, [still], { maskPlates: true, maskPeople: true })
  expect(strokes(await alongMiddle(all, still))).toBeLessThan(14)
})
