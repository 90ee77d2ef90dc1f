import { describe, expect, it } from 'vitest'
import { seededRandom } from '../../../src/math/random.js'
import { seenRim, type SeenRim } from '../../../src/measure/snap/seenRim.js'
import { PLATE } from '../boardReference.js'
import { photographOutline, plateScene, rimLine } from '../outlineScene.js'
import { clicked } from '../renderedBoard.js'
import { stillOf } from '../stillOfRaster.js'

/** What is seen on plates by day, four clicks of half a px: `lineMm` of a dark line, so far inside the rim. */
async function seenOn(
  {
    lineMm,
    insetMm = 0,
    surround,
    widthPx = 230,
  }: Record<'lineMm' | 'surround', number> & Partial<Record<'insetMm' | 'widthPx', number>>,
  count = 12,
): Promise<readonly SeenRim[]> {
  const random = seededRandom(15)
  const all: SeenRim[] = []
  for (let plate = 0; plate < count; plate += 1) {
    const plain = plateScene(widthPx, random, surround)
    const lines = lineMm === 0 ? [] : rimLine(widthPx, insetMm, lineMm)
    const scene = { ...plain, blurPx: 0.8, parts: [...plain.parts!, ...lines] }
    const { raster, corners } = await photographOutline(scene, { noiseCode: 2, quality: 90 }, random)
    const seen = await seenRim(stillOf(raster), clicked(corners, random, 0.5), PLATE)
    if (seen !== null) all.push(seen)
  }
  return all
}

describe('a dark border at the rim of a plate, by day', () => {
  it('is seen before lighter ground in half of them and more, as wide as it is to 0.7 mm, at 385 px/m', async () => {
    const seen = await seenOn({ lineMm: 3, surround: 0.5 })
    expect(seen.length).toBeGreaterThanOrEqual(6)
    for (const { widthM } of seen) expect(Math.abs(widthM - 0.003)).toBeLessThan(0.0007)
  })

  it.each([
    ['where there is none, before light ground', { lineMm: 0, surround: 0.35 }],
    ['where there is none, before dark ground', { lineMm: 0, surround: 0.04 }],
    ['where there is one before ground as dark as it: nothing shows it', { lineMm: 3, surround: 0.04 }],
    ['where a line lies inside the rim, before dark ground', { lineMm: 3, insetMm: 4, surround: 0.04 }],
    ['where the plate has under 220 px/m', { lineMm: 3, surround: 0.5, widthPx: 105 }],
  ])('is not seen %s', async (_, plate) => {
    expect(await seenOn(plate)).toEqual([])
  })
})
