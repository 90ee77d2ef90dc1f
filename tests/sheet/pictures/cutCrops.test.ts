import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import sharp from 'sharp'
import { expect, it } from 'vitest'
import { failure } from '../../../src/math/outcome.js'
import { cutCrops } from '../../../src/sheet/pictures/cutCrops.js'
import { openStill } from '../../../src/still/openStill.js'
import { inventedResults } from '../inventedResults.js'

const results = inventedResults({ lights: ['day'], references: { board: [0.6, 0.4] }, marksM: [4, 20] })

it('cuts pictures without EXIF, small ones enlarged by repeating pixels and large ones reduced', async () => {
  const dir = await mkdtemp(join(tmpdir(), 'proofwalk-crops-'))
  try {
    const file = join(dir, 'still.jpg')
    const grain = Buffer.from(Uint8Array.from({ length: 3840 * 2160 }, (_, n) => (n * 7919) % 251))
    const picture = sharp(grain, { raw: { width: 3840, height: 2160, channels: 1 } })
      .withExif({ IFD0: { Artist: 'nobody at a secret place' } })
      .jpeg({ quality: 95 })
    await writeFile(file, await picture.toBuffer())
    expect((await sharp(file).metadata()).exif, 'the still has EXIF').toBeDefined()
    const crops = await cutCrops(results, () => openStill(file))
    expect(crops.map((crop) => crop.file).sort()).toEqual(results.stills.map((still) => still.file).sort())
    const sizes = []
    for (const { image, region } of crops) {
      const { exif, icc, hasAlpha, width, height, format } = await sharp(image).metadata()
      expect([exif, icc, hasAlpha]).toEqual([undefined, undefined, false])
      expect(Buffer.from(image).includes('secret')).toBe(false)
      sizes.push({ format, factor: width / region.width, even: height / region.height })
    }
    const [near, far] = sizes
    expect(near!.format).toBe('jpeg')
    expect(near!.factor).toBeLessThanOrEqual(1)
    expect(far!.format).toBe('png')
    expect([far!.factor, far!.even]).toEqual([3, 3])
    const { data, info } = await sharp(crops[1]!.image).raw().toBuffer({ resolveWithObject: true })
    const at = (x: number, y: number): number => data[(y * info.width + x) * info.channels]!
    expect([at(0, 0), at(2, 0), at(0, 2), at(2, 2)]).toEqual(Array(4).fill(at(1, 1)))
  } finally {
    await rm(dir, { recursive: true, force: true })
  }
})

it('leaves out the picture of a still that cannot be opened', async () => {
  expect(
    await cutCrops(results, () => Promise.resolve(failure({ code: 'gone', message: 'not there' }))),
  ).toEqual([])
})
