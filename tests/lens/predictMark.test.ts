import { expect, it } from 'vitest'
import { predictMark } from '../../src/lens/predictMark.js'
import { readDataSheet } from '../../src/lens/readDataSheet.js'
import { expectNear } from '../nearly.js'

it('gives a plain lens F over the distance in the middle, more at the edge, and the flat width of its angle', () => {
  const reading = readDataSheet({ widthPx: 1920, heightPx: 1080, horizontalDeg: 90 })
  const at = predictMark(reading, 1920, 8)
  expectNear(at.densityPxPerM!, 120, { rel: 1e-12 }, '960 px per radian over 8 m')
  // Half a degree either way, the digits of "90": 960 / tan 45.25 and 44.75 degrees over 8 m.
  expectNear(at.boundsPxPerM!.low, 118.957, { rel: 1e-5 })
  expectNear(at.boundsPxPerM!.high, 121.052, { rel: 1e-5 })
  // Square to the ray at 45 degrees: along the radius F / cos^2 = 2 F, around the axis F / cos, the smaller counts.
  expectNear(at.densityAtEdgePxPerM!, 120 * Math.SQRT2, { rel: 1e-12 })
  expectNear(at.rectilinearDensityPxPerM!, 120, { rel: 1e-12 })
  expectNear(at.widthOfViewM!, 16, { rel: 1e-12 }, 'at 90 degrees twice the distance')
})

it('keeps the rectilinear answer beside that of the lens as it was read', () => {
  const reading = readDataSheet({ widthPx: 3840, heightPx: 2160, horizontalDeg: 100, verticalDeg: 52 })
  const at = predictMark(reading, 3840, 10)
  expectNear(at.rectilinearDensityPxPerM!, 161.107, { rel: 1e-5 }, '1920 / tan 50 degrees over 10 m')
  expect(at.densityPxPerM!).toBeGreaterThan(1.4 * at.rectilinearDensityPxPerM!)
  expect(at.densityAtEdgePxPerM!).toBeLessThan(at.densityPxPerM!)
  // Both readings see the sheet's 100 degrees, so both see the same width.
  expectNear(at.widthOfViewM!, 20 * Math.tan((50 * Math.PI) / 180), { rel: 1e-9 })
})

it('has no width from 180 degrees on, and nothing where the sheet tells no lens', () => {
  const wide = readDataSheet({ widthPx: 2000, heightPx: 2000, horizontalDeg: 190 })
  expect(predictMark(wide, 2000, 5)).toMatchObject({ widthOfViewM: null, rectilinearDensityPxPerM: null })
  const silent = readDataSheet({ widthPx: 2000, heightPx: 2000 })
  expect(predictMark(silent, 2000, 5)).toEqual({
    densityPxPerM: null,
    boundsPxPerM: null,
    densityAtEdgePxPerM: null,
    rectilinearDensityPxPerM: null,
    widthOfViewM: null,
  })
})
