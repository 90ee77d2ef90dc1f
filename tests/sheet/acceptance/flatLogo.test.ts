import sharp from 'sharp'
import { expect, it } from 'vitest'
import { flatLogo } from '../../../src/sheet/acceptance/flatLogo.js'
import { inventedResults } from '../inventedResults.js'
import { hasPoppler, poppler } from '../poppler.js'
import { sheetOf } from '../sheetOf.js'

const logo = sharp({
  create: { width: 1600, height: 500, channels: 4, background: { r: 0, g: 0, b: 0, alpha: 0.5 } },
})
  .png()
  .toBuffer()

it('lays a transparent logo on white and no larger than print needs', async () => {
  const { width, height, hasAlpha, format } = await sharp(await flatLogo(await logo)).metadata()
  expect([width, height, hasAlpha, format]).toEqual([640, 200, false, 'png'])
})

it('names the fault of a logo that is not a picture', async () => {
  await expect(flatLogo(new TextEncoder().encode('no picture'))).rejects.toMatchObject({
    code: 'logo-unreadable',
    exitStatus: 2,
  })
})

it.skipIf(!hasPoppler())(
  'puts no transparency into the file, with a logo and with masked plates',
  async () => {
    const results = inventedResults({ lights: ['day'], references: { plate: [0.52, 0.11] }, marksM: [4, 20] })
    const pdf = await sheetOf(results, { logo: await logo, maskPlates: true })
    const rows = poppler('pdfimages', ['-list', 'FILE'], pdf).trim().split('\n').slice(2)
    expect(rows).toHaveLength(3)
    for (const row of rows) expect(row).toMatch(/ image /)
  },
)
