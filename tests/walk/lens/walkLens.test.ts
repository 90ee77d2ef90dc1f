import { expect, test } from 'vitest'
import type { JudgedStill, LensResult } from '../../../src/grade/judgement.js'
import { lensOfWalk } from '../../../src/walk/lens/walkLens.js'

const measured = (value: number, half: number): LensResult => ({
  light: 'day',
  reference: 'board',
  pixelsPerRadian: { value, low: value - half, high: value + half },
  offsetM: 0,
  suspect: null,
  promised: null,
})
const still = { measurement: { width: 1280, height: 720 } } as unknown as JudgedStill
const sheet = { lens: { p: 0, pixelsPerRadian: 900, centreX: 0, centreY: 0 } }
const reading = sheet as unknown as NonNullable<Parameters<typeof lensOfWalk>[1]>

test('the lens takes pixels per radian from where the walk knows them best, and the projection from the data sheet', () => {
  const lens = lensOfWalk([measured(1200, 60), measured(1190, 5), measured(1180, 9)], reading, [still])
  expect(lens).toEqual({ p: 0, pixelsPerRadian: 1190, centreX: 640, centreY: 360 })
})

test('where nothing was fitted the data sheet stands in, and a plain lens where it is silent on the projection', () => {
  expect(lensOfWalk([], reading, [still])?.pixelsPerRadian).toBe(900)
  expect(lensOfWalk([measured(1200, 5)], null, [still])?.p).toBe(1)
})

test('with no fit and no data sheet, or with no still, there is no lens', () => {
  expect(lensOfWalk([], null, [still])).toBeNull()
  expect(lensOfWalk([measured(1200, 5)], reading, [])).toBeNull()
})
