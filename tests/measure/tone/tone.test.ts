import { describe, expect, it } from 'vitest'
import { seededRandom } from '../../../src/math/random.js'
import { linearFromCode } from '../../../src/math/srgb.js'
import { measureTone } from '../../../src/measure/tone/tone.js'
import type { ToneElement } from '../../../src/measure/stillMeasurement.js'
import { expectNear } from '../../nearly.js'
import { BOARD, PLATE } from '../boardReference.js'
import { clicked, photograph, plateParts, renderBoard } from '../renderedBoard.js'

const ELEMENTS = [
  { gradeId: 'recognise', elementM: 0.016 },
  { gradeId: 'identify', elementM: 0.008 },
]

interface PlateView {
  readonly widthPx: number
  readonly groundCode: number
  readonly strokeCode: number
  readonly surroundCode?: number
  readonly noiseCode: number
  readonly quality?: number | null
  readonly sigmaPx?: number
  readonly exposure?: number
}

async function toneOfPlate(view: PlateView, seed: number, elements: readonly ToneElement[] = ELEMENTS) {
  const random = seededRandom(seed)
  const times = view.exposure ?? 1
  const level = (code: number): number => Math.min(4, linearFromCode(code) * times)
  const picture = renderBoard({
    widthPx: view.widthPx,
    heightPx: (view.widthPx * 111) / 520,
    rollRad: 0.1 * random.uniform(),
    sigmaPx: view.sigmaPx ?? 0.8,
    board: level(view.groundCode),
    surround: level(view.surroundCode ?? 70),
    shift: [random.uniform(), random.uniform()],
    parts: plateParts(view.widthPx, level(view.strokeCode)),
  })
  const raster = await photograph(
    picture,
    { noiseCode: view.noiseCode, quality: view.quality ?? null },
    random,
  )
  const options = { elements, densityPxPerM: view.widthPx / 0.52, blurSigmaPx: null }
  return measureTone(raster, clicked(picture.corners, random), PLATE, options)
}

describe('the tone of a plate', () => {
  it('reads the ground and the strokes in linear light', async () => {
    const { tone, problems } = await toneOfPlate(
      { widthPx: 300, groundCode: 200, strokeCode: 100, noiseCode: 2 },
      1,
    )
    expect(problems).toEqual([])
    expectNear(tone!.bright, linearFromCode(200), { rel: 0.02 }, 'even ground')
    expectNear(tone!.dim, linearFromCode(100), { rel: 0.05 }, 'narrow strokes keep a little of the blur')
    expectNear(tone!.michelson, 0.638484, { abs: 0.02 }, 'codes 200 and 100 in linear light')
    expectNear(tone!.noise, 2, { rel: 0.08 }, 'white noise and rounding')
    expect(tone!.clippedBright).toBe(0)
    expect(tone!.clippedDim).toBe(0)
  })

  it('is told to be missing for a coarse element only where no finer one stands out', async () => {
    const coarse = { gradeId: 'detect', elementM: 0.2 }
    const view = { widthPx: 150, groundCode: 200, strokeCode: 100, noiseCode: 2 }
    const even = await toneOfPlate(view, 1, [coarse, ELEMENTS[1]!])
    expect(even.tone!.roseK.detect).toBeNull()
    expect(even.tone!.roseK.identify!.k).toBeGreaterThan(10)
    expect(even.problems.map(({ code }) => code)).not.toContain('few-even-squares')
    // A seventh of a pixel stands out nowhere.
    const short = await toneOfPlate(view, 1, [coarse, { gradeId: 'inspect', elementM: 0.0005 }])
    expect(short.tone!.roseK.detect).toBeNull()
    expect(short.tone!.roseK.inspect!.k).toBeLessThan(5)
    expect(short.problems.map(({ code }) => code)).toContain('few-even-squares')
  })

  it.each([20, 30, 40, 60, 80, 100, 150, 200, 300, 400])(
    'is never called too noisy without noise, %d px wide',
    async (widthPx) => {
      for (let seed = 0; seed < 6; seed += 1) {
        const random = seededRandom(100 + seed)
        const groundCode = 110 + 90 * random.uniform()
        const strokeCode = groundCode - 12 - 60 * random.uniform()
        const { tone, problems } = await toneOfPlate({ widthPx, groundCode, strokeCode, noiseCode: 0 }, seed)
        expect(problems.map(({ code }) => code)).not.toContain('too-noisy')
        for (const k of Object.values(tone!.roseK)) if (k !== null) expect(k.k + k.U).toBeGreaterThan(5)
      }
    },
  )

  it.each([20, 30, 40, 60, 80, 100, 150, 200, 300, 400])(
    'never passes where a 16 mm stroke stands out 3 times, %d px wide',
    async (widthPx) => {
      const elementPx = (0.016 * widthPx) / 0.52
      let known = 0
      for (let seed = 0; seed < 8; seed += 1) {
        const random = seededRandom(200 + seed)
        const groundCode = 120 + 20 * random.uniform()
        const contrast = 8 + 4 * random.uniform()
        const noiseCode = (contrast * Math.min(elementPx, elementPx ** 2)) / 3
        const { tone } = await toneOfPlate(
          {
            widthPx,
            groundCode,
            strokeCode: groundCode - contrast,
            surroundCode: seed % 2 === 0 ? 70 : 170,
            noiseCode,
            quality: seed % 3 === 0 ? null : 92,
          },
          seed,
        )
        const k = tone!.roseK.recognise ?? null
        if (k === null) continue
        known += 1
        expect(k.k - k.U).toBeLessThan(5)
      }
      if (widthPx >= 100) expect(known).toBe(8)
    },
  )

  it('stands out where k is 15, and k comes out near it', async () => {
    const widthPx = 300
    const elementPx = (0.016 * widthPx) / 0.52
    for (const seed of [1, 2, 3]) {
      const noiseCode = (20 * elementPx) / 15
      const { tone, problems } = await toneOfPlate(
        { widthPx, groundCode: 140, strokeCode: 120, noiseCode },
        seed,
      )
      const k = tone!.roseK.recognise!
      expectNear(k.k, 15, { rel: 0.3 }, 'few squares of 9 px find room')
      expect(k.k - k.U).toBeGreaterThan(5)
      expect(problems.map(({ code }) => code)).not.toContain('too-noisy')
    }
  })

  it('says in the reader’s words how often a stroke stands out where it is too noisy', async () => {
    const { problems } = await toneOfPlate(
      { widthPx: 150, groundCode: 130, strokeCode: 122, noiseCode: 20 },
      1,
      [ELEMENTS[1]!],
    )
    const problem = problems.find(({ code }) => code === 'too-noisy')
    expect(problem?.message).toMatch(/^too noisy: a stroke stands out only [0-2]\.\d times, 5 needed$/)
  })

  it('says washed out where the plate is at white', async () => {
    const { tone, problems } = await toneOfPlate(
      { widthPx: 200, groundCode: 200, strokeCode: 190, noiseCode: 1, exposure: 4 },
      1,
    )
    const problem = problems.find(({ code }) => code === 'washed-out')
    expect(problem?.message).toMatch(/^washed out: \d+ % of its surface is pure white, contrast \d+ %$/)
    expect(tone!.michelson).toBeLessThan(0.05)
    expect(tone!.roseK.recognise!.k + tone!.roseK.recognise!.U).toBeLessThan(5)
  })

  it('does not call a legible plate with its ground at white washed out, but tells the clipping', async () => {
    const { tone, problems } = await toneOfPlate(
      { widthPx: 200, groundCode: 200, strokeCode: 60, noiseCode: 1, exposure: 2.5 },
      1,
    )
    expect(tone!.clippedBright).toBeGreaterThan(0.9)
    expect(problems.map(({ code }) => code)).toContain('clipped-bright')
    expect(problems.map(({ code }) => code)).not.toContain('washed-out')
  })
})

describe('the tone of a plain board', () => {
  it('sets the board against its surround', async () => {
    const random = seededRandom(5)
    const picture = renderBoard({
      widthPx: 90,
      heightPx: 60,
      rollRad: 0.1,
      sigmaPx: 0.9,
      board: 0.1,
      surround: 0.4,
      shift: [0, 0],
    })
    const raster = await photograph(picture, { noiseCode: 3, quality: null }, random)
    const { tone, problems } = measureTone(raster, clicked(picture.corners, random), BOARD, {
      elements: ELEMENTS,
      densityPxPerM: 150,
      blurSigmaPx: 0.9,
    })
    expect(problems).toEqual([])
    expectNear(tone!.bright, 0.4, { rel: 0.01 }, 'even')
    expectNear(tone!.dim, 0.1, { rel: 0.01 }, 'even')
    expectNear(tone!.noise, 3, { rel: 0.05 }, 'white noise')
    // 168.7 and 89.0 code values apart by 79.7; blur and pixel leave of a square of 2.4 px, its side summed squared, 1.3718 px (an integral worked out elsewhere).
    expectNear(tone!.roseK.recognise!.k, (79.7 / 3) * 1.3718, { rel: 0.1 }, 'white noise')
    expectNear(tone!.contrastToNoise, 79.7 / 3, { rel: 0.06 }, 'per pixel')
  })

  it('is null where the board is too small', () => {
    const raster = { left: 0, top: 0, width: 10, height: 10, data: new Float32Array(100).fill(50) }
    const corners = [
      [4, 4],
      [6, 4],
      [6, 6],
      [4, 6],
    ] as const
    const result = measureTone(raster, corners, BOARD, {
      elements: ELEMENTS,
      densityPxPerM: 3,
      blurSigmaPx: null,
    })
    expect(result.tone).toBeNull()
    expect(result.problems.map(({ code }) => code)).toEqual(['tone-too-small'])
  })
})

describe('a plate wholly at white', () => {
  const corners = [
    [20, 20],
    [220, 20],
    [220, 62],
    [20, 62],
  ] as const
  const whitePlate = (inside: (x: number, y: number) => number) => {
    const [width, height] = [240, 82]
    const data = Float32Array.from({ length: width * height }, (_, at) => {
      const [x, y] = [at % width, Math.floor(at / width)]
      return x >= 20 && x < 220 && y >= 20 && y < 62 ? inside(x, y) : 40
    })
    const options = { elements: ELEMENTS, densityPxPerM: 200 / 0.52, blurSigmaPx: null }
    return measureTone({ left: 0, top: 0, width, height, data }, corners, PLATE, options)
  }

  it('is washed out and has no contrast, not too small to tell', () => {
    // Smoothed, a few pixels just under white put the split's threshold at white itself.
    const { tone, problems } = whitePlate((x, y) => (x === 100 && y === 40 ? 254.4 : 255))
    expect(problems.map(({ code }) => code)).toContain('washed-out')
    expectNear(tone!.michelson, 0, { abs: 1e-4 }, 'no contrast')
  })

  it('is washed out too where the ringing of the compression leaves some pixels just under white', () => {
    const { problems } = whitePlate((x) => (x >= 60 && x < 90 ? 253.2 : 255))
    expect(problems.map(({ code }) => code)).toContain('washed-out')
  })
})
