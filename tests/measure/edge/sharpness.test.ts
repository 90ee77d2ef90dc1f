import sharp from 'sharp'
import { describe, expect, it } from 'vitest'
import { seededRandom } from '../../../src/math/random.js'
import type { Quad } from '../../../src/math/point.js'
import { frequencyAtModulation } from '../../../src/measure/edge/gaussianPixelMtf.js'
import { measureSharpness } from '../../../src/measure/edge/sharpness.js'
import type { Raster } from '../../../src/still/raster.js'
import { expectNear } from '../../nearly.js'
import {
  clicked,
  photograph,
  plateParts,
  renderBoard,
  throughJpeg,
  type BoardScene,
} from '../renderedBoard.js'

const SCENE: BoardScene = {
  widthPx: 150,
  heightPx: 100,
  rollRad: 0.06,
  sigmaPx: 0.9,
  board: 0.5,
  surround: 0.1,
  shift: [0.2, 0.3],
}
const OPTIONS = { fullDetailAt: 0.4 }

async function pictured(scene: BoardScene, noiseCode = 1.5, quality: number | null = 92, seed = 41) {
  const random = seededRandom(seed)
  const picture = renderBoard(scene)
  const raster = await photograph(picture, { noiseCode, quality }, random)
  return { raster, corners: clicked(picture.corners, random) }
}

/** The pixel's sigma at which the first 10 % crossing is at `f10`. */
function sigmaFor(f10: number): number {
  let sigma = 0.3
  while (frequencyAtModulation(0.1, sigma) > f10) sigma += 0.0005
  return sigma
}

describe('sharpness of a board', () => {
  it('is told with its factor, the lower direction deciding', async () => {
    const { raster, corners } = await pictured(SCENE)
    const { sharpness, problems } = measureSharpness(raster, corners, OPTIONS)
    expect(problems).toEqual([])
    const f10 = frequencyAtModulation(0.1, 0.9)
    expectNear(sharpness!.horizontal.mtf10, f10, { rel: 0.03 }, 'one board')
    expectNear(sharpness!.vertical.mtf10, f10, { rel: 0.03 }, 'one board')
    expectNear(sharpness!.horizontal.mtf50, frequencyAtModulation(0.5, 0.9), { rel: 0.03 }, 'one board')
    const lower = Math.min(sharpness!.horizontal.mtf10, sharpness!.vertical.mtf10)
    expectNear(sharpness!.factor, lower / 0.4, { rel: 1e-12 }, 'by definition')
    expect(sharpness!.factorU).toBeGreaterThan(0.01)
    expect(sharpness!.factorU).toBeLessThan(0.15)
    expect(sharpness!.method).toBe('fit')
  })

  it('tells the two directions apart where a still is blurred along its rows only', async () => {
    const { raster, corners } = await pictured({ ...SCENE, sigmaPx: 0.6, rollRad: 0.04 }, 1, null)
    const wide = raster.data.map((_, at) => {
      const x = at % raster.width
      const at5 = [-2, -1, 0, 1, 2].map(
        (d) => raster.data[at - x + Math.max(0, Math.min(raster.width - 1, x + d))]!,
      )
      return at5.reduce((sum, code, i) => sum + code * [1, 4, 6, 4, 1][i]!, 0) / 16
    })
    const { sharpness } = measureSharpness({ ...raster, data: wide }, corners, OPTIONS)
    expect(sharpness!.horizontal.mtf10).toBeLessThan(0.75 * sharpness!.vertical.mtf10)
    expectNear(sharpness!.vertical.mtf10, frequencyAtModulation(0.1, 0.6), { rel: 0.05 }, 'not blurred')
    expectNear(sharpness!.factor, sharpness!.horizontal.mtf10 / 0.4, { rel: 1e-12 }, 'the lower one')
  })

  it('keeps the still’s directions where the board is turned by 90 degrees', async () => {
    const { raster, corners } = await pictured({ ...SCENE, sigmaPx: 0.6, rollRad: 0.04 }, 1, null)
    const turned: Quad = [corners[1], corners[2], corners[3], corners[0]]
    const plain = measureSharpness(raster, corners, OPTIONS).sharpness!
    const again = measureSharpness(raster, turned, OPTIONS).sharpness!
    expectNear(again.horizontal.mtf10, plain.horizontal.mtf10, { rel: 1e-9 }, 'the same edges')
    expectNear(again.vertical.mtf10, plain.vertical.mtf10, { rel: 1e-9 }, 'the same edges')
  })

  it('does not count more than every pixel', async () => {
    const { raster, corners } = await pictured({ ...SCENE, sigmaPx: 0.5 })
    const { sharpness } = measureSharpness(raster, corners, OPTIONS)
    expect(sharpness!.factor).toBe(1)
    expect(sharpness!.factorU).toBe(0)
  })

  it('is the same wherever the raster was cut from', async () => {
    const { raster, corners } = await pictured(SCENE)
    const moved = corners.map(([x, y]) => [x + 1000, y + 300] as const) as unknown as Quad
    const there = measureSharpness({ ...raster, left: 1000, top: 300 }, moved, OPTIONS).sharpness!
    const here = measureSharpness(raster, corners, OPTIONS).sharpness!
    expectNear(there.factor, here.factor, { rel: 1e-9 }, 'the same pixels')
  })
})

describe('a still scaled up twofold', () => {
  it.each(['linear', 'cubic', 'mitchell', 'lanczos3'] as const)(
    'counts 0.45 to 0.62 of its pixels where the small one had f10 of 0.40 to 0.45, %s',
    async (kernel) => {
      const random = seededRandom(42)
      for (let i = 0; i < 5; i += 1) {
        const picture = renderBoard({
          ...SCENE,
          widthPx: 100,
          heightPx: 66,
          rollRad: 0.15 * random.uniform(),
          sigmaPx: sigmaFor(0.4 + 0.05 * random.uniform()),
        })
        const small = await photograph(picture, { noiseCode: 1, quality: null }, random)
        const [width, height] = [2 * small.width, 2 * small.height]
        const input = { raw: { width: small.width, height: small.height, channels: 1 as const } }
        const large = await sharp(Uint8Array.from(small.data), input)
          .resize(width, height, { kernel, fit: 'fill' })
          .extractChannel(0)
          .raw()
          .toBuffer()
        const data = Float32Array.from(await throughJpeg(new Uint8Array(large), width, height, 92))
        const raster: Raster = { left: 0, top: 0, width, height, data }
        const corners = picture.corners.map(([x, y]) => [2 * x, 2 * y] as const) as unknown as Quad
        const { sharpness } = measureSharpness(raster, clicked(corners, random), OPTIONS)
        expect(sharpness!.factor).toBeGreaterThan(0.45)
        expect(sharpness!.factor).toBeLessThan(0.62)
      }
    },
  )
})

describe('sharpness is null, and says why,', () => {
  const codes = async (scene: BoardScene, noise = 1.5): Promise<{ told: boolean; codes: string[] }> => {
    const { raster, corners } = await pictured(scene, noise)
    const { sharpness, problems } = measureSharpness(raster, corners, OPTIONS)
    return { told: sharpness !== null, codes: problems.map(({ code }) => code) }
  }

  it('where the board is too small', async () => {
    expect(await codes({ ...SCENE, widthPx: 16, heightPx: 11 })).toEqual({
      told: false,
      codes: ['detail-too-small'],
    })
  })

  it('where it does not stand out from its surround', async () => {
    expect(await codes({ ...SCENE, surround: 0.49 })).toEqual({ told: false, codes: ['detail-no-contrast'] })
  })

  it('where it is at white', async () => {
    expect(await codes({ ...SCENE, board: 1.6 })).toEqual({ told: false, codes: ['detail-clipped'] })
  })

  it('where it is at black', async () => {
    expect(await codes({ ...SCENE, board: 0 })).toEqual({ told: false, codes: ['detail-clipped'] })
  })

  it('where something lies within 4 px of its edges all round', async () => {
    const { raster, corners } = await pictured({ ...SCENE, rollRad: 0 })
    const random = seededRandom(43)
    const [cx, cy] = [raster.width / 2, raster.height / 2]
    const data = raster.data.map((code, at) => {
      const [x, y] = [(at % raster.width) + 0.5 - cx, Math.floor(at / raster.width) + 0.5 - cy]
      return Math.abs(x) > 78 || Math.abs(y) > 53 ? 40 + 160 * random.uniform() : code
    })
    const cluttered = measureSharpness({ ...raster, data }, corners, OPTIONS)
    expect(cluttered.sharpness).toBeNull()
    expect(cluttered.problems.map(({ code }) => code)).toEqual(['detail-no-quiet-ground'])
    expect(cluttered.problems[0]!.message).toContain('4 px')
  })

  it('where a border of one or two pixels is drawn along its edges', async () => {
    for (const border of [1, 2]) {
      const [right, bottom] = [75 - border, 50 - border]
      const inner = { left: -right, top: -bottom, right, bottom, level: 0.6 }
      const { raster, corners } = await pictured({ ...SCENE, board: 0.06, surround: 0.25, parts: [inner] })
      const { sharpness, problems } = measureSharpness(raster, corners, OPTIONS)
      expect(sharpness).toBeNull()
      expect(['detail-halo', 'detail-no-quiet-ground']).toContain(problems[0]!.code)
    }
  })

  it.each([40, 100, 160])('on a plate %d px wide, whose margin is too narrow', async (widthPx) => {
    const scene = { ...SCENE, widthPx, heightPx: (widthPx * 111) / 520, board: 0.6, surround: 0.3 }
    const { raster, corners } = await pictured({ ...scene, parts: plateParts(widthPx, 0.05) })
    const { sharpness, problems } = measureSharpness(raster, corners, OPTIONS)
    expect(sharpness).toBeNull()
    expect(['detail-no-quiet-ground', 'detail-too-small']).toContain(problems[0]!.code)
  })
})
