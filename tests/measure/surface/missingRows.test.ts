import { expect, test } from 'vitest'
import { seededRandom } from '../../../src/math/random.js'
import { linearFromCode } from '../../../src/math/srgb.js'
import type { Quad } from '../../../src/math/point.js'
import { measureStill } from '../../../src/measure/measureStill.js'
import type { RectangleReference } from '../../../src/measure/reference/reference.js'
import type { StillMeasurement } from '../../../src/measure/stillMeasurement.js'
import { missingRows } from '../../../src/measure/surface/missingRows.js'
import type { Raster } from '../../../src/still/raster.js'
import { expectNear } from '../../nearly.js'
import { BOARD, PLATE } from '../boardReference.js'
import { photograph, plateParts, renderBoard } from '../renderedBoard.js'
import { stillOf } from '../stillOfRaster.js'

/** A reference of some width in noise, its surround black or not; levels in code values. */
async function seen(levels: { ground: number; surround: number; strokes?: number }, heightPx: number) {
  const random = seededRandom(12)
  const picture = renderBoard({
    widthPx: 200,
    heightPx,
    rollRad: 0.04,
    sigmaPx: 0.8,
    board: linearFromCode(levels.ground),
    surround: linearFromCode(levels.surround),
    shift: [0.3, 0.6],
    ...(levels.strokes === undefined ? {} : { parts: plateParts(200, linearFromCode(levels.strokes)) }),
  })
  const raster = await photograph(picture, { noiseCode: 2, quality: null }, random)
  return { raster, corners: picture.corners }
}

/** The raster with noughts from one row to another, both of which are cut amid. */
function withNoughts({ data, ...place }: Raster, from: number, rows: number): Raster {
  const first = from * place.width + 40
  return { ...place, data: Float32Array.from(data).fill(0, first, first + rows * place.width) }
}

const measured = (raster: Raster, corners: Quad, reference: RectangleReference) =>
  measureStill(stillOf(raster), {
    reference,
    pick: { kind: 'corners', corners, sigmaPx: 0.5, method: 'hand' },
    elements: [{ gradeId: 'fine', elementM: 0.016 }],
    fullDetailAt: 0.4,
  })

const kOf = (told: Awaited<ReturnType<typeof measured>>): { k: number; U: number } =>
  (told as { value: StillMeasurement }).value.tone!.roseK.fine!

test('noughts across a plate whose strokes do not stand out make it no plate whose strokes do', async () => {
  const { raster, corners } = await seen({ ground: 120, surround: 60, strokes: 119 }, 43)
  const whole = kOf(await measured(raster, corners, PLATE))
  expect(whole.k).toBeLessThan(2)
  const middle = Math.round((corners[0][1] + corners[2][1]) / 2) - raster.top
  expect(await measured(withNoughts(raster, middle - 4, 6), corners, PLATE)).toMatchObject({
    ok: false,
    code: 'still-damaged',
    message:
      '5 rows of pixels across the reference are wholly black, so data are missing: export the still again',
  })
})

test('noughts in the surround of a board leave its k within its uncertainty', async () => {
  const { raster, corners } = await seen({ ground: 66, surround: 60 }, 133)
  const whole = kOf(await measured(raster, corners, BOARD))
  const top = Math.floor(Math.min(...corners.map(([, y]) => y))) - raster.top
  const damaged = kOf(await measured(withNoughts(raster, top - 14, 12), corners, BOARD))
  expectNear(damaged.k, whole.k, { abs: whole.U })
})

test('a dark border, a black surround and a plate too dark to be read miss no rows', async () => {
  const night = await seen({ ground: 120, surround: 0, strokes: 2 }, 43)
  const { top, width, data } = night.raster
  const first = Math.floor(Math.min(...night.corners.map(([, y]) => y))) - top
  // All that is above the plate, and a border as wide as its strokes.
  data.fill(0, 0, (first + 5) * width)
  expect(missingRows(night.raster, night.corners)).toBe(0)
  const dark = await seen({ ground: 3, surround: 0 }, 43)
  expect(missingRows(dark.raster, dark.corners)).toBe(0)
})
