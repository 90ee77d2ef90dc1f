import sharp from 'sharp'
import { describe, expect, it } from 'vitest'
import { seededRandom, type Random } from '../../../src/math/random.js'
import type { Quad } from '../../../src/math/point.js'
import { coarseLevels } from '../../../src/measure/export/coarseLevels.js'
import { exportSigns } from '../../../src/measure/export/exportSigns.js'
import { repeatedPixels } from '../../../src/measure/export/repeatedPixels.js'
import { enlarged } from '../../../src/measure/export/enlarged.js'
import { measureSharpness } from '../../../src/measure/edge/sharpness.js'
import type { Raster } from '../../../src/still/raster.js'
import { photograph, plateParts, renderBoard, throughJpeg } from '../renderedBoard.js'

interface View {
  readonly widthPx?: number
  readonly rollRad?: number
  readonly sigmaPx?: number
  readonly noiseCode: number
  readonly quality: number | null
  readonly plate?: boolean
}

async function still(view: View, random: Random): Promise<{ raster: Raster; corners: Quad }> {
  const widthPx = view.widthPx ?? 120
  const picture = renderBoard({
    widthPx,
    heightPx: view.plate === true ? (widthPx * 111) / 520 : widthPx * 0.66,
    rollRad: view.rollRad ?? 0.08,
    sigmaPx: view.sigmaPx ?? 0.8,
    board: 0.5,
    surround: 0.12,
    shift: [random.uniform(), random.uniform()],
    ...(view.plate === true ? { parts: plateParts(widthPx, 0.05) } : {}),
  })
  return { raster: await photograph(picture, view, random), corners: picture.corners }
}

async function scaled(
  raster: Raster,
  times: number,
  kernel: 'nearest' | 'linear' | 'cubic' | 'lanczos3',
  quality: number | null,
): Promise<Raster> {
  const [width, height] = [Math.round(raster.width * times), Math.round(raster.height * times)]
  const bytes = Uint8Array.from(raster.data)
  const { data } = await sharp(bytes, { raw: { width: raster.width, height: raster.height, channels: 1 } })
    .resize(width, height, { kernel, fit: 'fill' })
    .extractChannel(0)
    .raw()
    .toBuffer({ resolveWithObject: true })
  const through = await throughJpeg(new Uint8Array(data), width, height, quality)
  return { left: 0, top: 0, width, height, data: Float32Array.from(through) }
}

describe('an ordinary still', () => {
  it('raises no alarm: level or rolled, sharp or soft, quiet or noisy, as it is or through JPEG', async () => {
    const random = seededRandom(31)
    const alarms: string[] = []
    let stills = 0
    for (const quality of [null, 85, 90, 95]) {
      for (const noiseCode of [0, 0.4, 1, 2, 4, 8]) {
        for (const rollRad of [0, 0.08]) {
          for (const sigmaPx of [0.5, 0.9, 2]) {
            const plate = random.uniform() < 0.4
            const { raster, corners } = await still({ noiseCode, quality, rollRad, sigmaPx, plate }, random)
            const { problems } = measureSharpness(raster, corners, { fullDetailAt: 0.4 })
            stills += 1
            for (const { code } of [...exportSigns(raster), ...problems]) {
              if (!code.startsWith('detail-'))
                alarms.push(`${code}: ${JSON.stringify({ noiseCode, quality, rollRad, sigmaPx, plate })}`)
            }
          }
        }
      }
    }
    console.log(`${alarms.length} alarms on ${stills} ordinary stills`)
    expect(alarms).toEqual([])
  })
})

describe('repeated pixels', () => {
  it.each([
    [2, null],
    [2, 95],
    [3, null],
    [1.5, null],
    [4, null],
  ] as const)('are told at %d times, JPEG quality %s', async (times, quality) => {
    const { raster } = await still({ noiseCode: 2, quality: null }, seededRandom(32))
    const problem = repeatedPixels(await scaled(raster, times, 'nearest', quality))
    expect(problem?.code).toBe('repeated-pixels')
  })
})

describe('smooth up-scaling', () => {
  it.each([
    [2, 'linear', null],
    [2, 'cubic', null],
    [2, 'lanczos3', null],
    [2, 'cubic', 95],
    [1.5, 'cubic', null],
    [1.5, 'cubic', 95],
    [4 / 3, 'cubic', null],
    [4 / 3, 'lanczos3', 95],
    [1.25, 'cubic', null],
    [1.25, 'linear', null],
    [1.2, 'cubic', null],
    [1.2, 'lanczos3', null],
  ] as const)('%d times is told, %s, JPEG quality %s', async (times, kernel, quality) => {
    const { raster } = await still({ noiseCode: 5, quality: null }, seededRandom(33))
    expect(enlarged(await scaled(raster, times, kernel, quality))?.code).toBe('enlarged')
  })
})

describe('coarse levels', () => {
  it('are told where code values stand 8 apart', async () => {
    const { raster } = await still({ noiseCode: 4, quality: null }, seededRandom(34))
    const data = raster.data.map((code) => Math.round(code / 8) * 8)
    expect(coarseLevels({ ...raster, data })?.code).toBe('coarse-levels')
    expect(coarseLevels(raster)).toBeNull()
  })
})

describe('rows of two fields', () => {
  it.each([1, 3])('are told where they lie %d px apart, and not where they do not', async (shift) => {
    for (const plate of [false, true]) {
      const view = { noiseCode: 2, quality: 92, widthPx: 150, rollRad: 0.06, plate }
      const { raster } = await still(view, seededRandom(35))
      const moved = raster.data.map((code, at) => {
        const row = Math.floor(at / raster.width)
        return row % 2 === 0 || at % raster.width < shift ? code : raster.data[at - shift]!
      })
      expect(exportSigns({ ...raster, data: moved }).map(({ code }) => code)).toEqual(['interlaced'])
      expect(exportSigns(raster)).toEqual([])
    }
  })

  it('are not told of doubled pixels, which stagger slanted edges alike', () => {
    const random = seededRandom(36)
    const [width, height] = [120, 120]
    const half = Float32Array.from({ length: (width * height) / 4 }, (_, at) => {
      const across = (at % (width / 2)) - width / 4 - 0.7 * (Math.floor(at / (width / 2)) - height / 4)
      return 120 + 90 * Math.max(-1, Math.min(1, across)) + 3 * random.normal()
    })
    const doubled = Float32Array.from({ length: width * height }, (_, at) => {
      const [x, y] = [at % width, Math.floor(at / width)]
      return half[(y >> 1) * (width / 2) + (x >> 1)]!
    })
    const raster: Raster = { left: 0, top: 0, width, height, data: doubled }
    expect(exportSigns(raster).map(({ code }) => code)).toEqual(['repeated-pixels'])
  })
})
