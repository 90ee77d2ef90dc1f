import { describe, expect, it } from 'vitest'
import type { GreyImage } from '../../../src/chart/match/greyImage.js'
import { moduleM } from '../../../src/chart/printed/chartGeometry.js'
import { chartPaper } from '../../../src/chart/printed/chartPapers.js'
import { STRIP_COVERAGE, stripSheetBelow } from '../../../src/chart/printed/stripSheet.js'
import { composeHomographies, type Homography } from '../../../src/math/homography.js'
import { linearFromCode } from '../../../src/math/srgb.js'
import { median } from '../../../src/math/median.js'
import { seededRandom } from '../../../src/math/random.js'
import { poolStrips } from '../../../src/measure/strip/poolStrips.js'
import { readStrips } from '../../../src/measure/strip/readStrips.js'
import { figureOf } from '../../../src/measure/strip/stripFigures.js'
import type { StripDetail } from '../../../src/measure/stillMeasurement.js'
import { gaussianPixelResponse } from '../../../src/simulate/camera/gaussianPixelResponse.js'
import { greySurface } from '../../../src/simulate/camera/planarTarget.js'
import { along } from '../../../src/simulate/camera/worldVector.js'
import { expectNear } from '../../nearly.js'
import { clutter } from '../../support/chartStill.js'
import { bilateral, coded, renderStrips, sense, unsharp, type StripScene } from '../../support/stripStill.js'

const PAPER = chartPaper('A3')!
const SCENE: StripScene = { paper: PAPER, pxPerM: 140, blurSigmaPx: 0.7 }
const BELOW = Float64Array.of(1, 0, 0, 0, 1, stripSheetBelow(PAPER), 0, 0, 1)
/** Electrons at white by day, at dusk and by night. */
const LIGHTS = [8000, 800, 160]

/** Reads the strips under a chart whose modules `map` lays into a picture. */
function read(image: GreyImage, map: Homography) {
  const sheet = { map: composeHomographies(map, BELOW), view: null, paper: PAPER, moduleM: moduleM(PAPER) }
  const elements = [
    { gradeId: 'rough', elementM: 0.016 },
    { gradeId: 'fine', elementM: 0.008 },
  ]
  const { faint: coverage } = STRIP_COVERAGE
  return readStrips({ left: 0, top: 0, ...image }, sheet, {
    elements,
    toLight: linearFromCode,
    coverage,
    coverageRel: 0.03,
  })
}

function strips(image: GreyImage, map: Homography) {
  const seen = read(image, map)
  if (!seen.ok) throw new Error(seen.message)
  return seen.value.strip
}

describe('two strips of bars in a still', () => {
  // Outside truth: textbook Fourier pairs of a Gaussian and a square pixel, drawn by the independent camera.
  const NODES = [1, 2, 3]
  const blurred = (node: number): number => gaussianPixelResponse(0.7, [0.05, 0.1, 0.2, 0.3][node]!)

  it('tell a Gaussian blur and the pixel, faint and black, without noise', () => {
    const { light, map } = renderStrips(SCENE)
    const { response24, response88 } = strips(
      coded(sense(light, { electrons: null, gain: 0.8, seed: 1 })),
      map,
    )
    for (const node of NODES) {
      expectNear(response24[node]!.value, blurred(node), { abs: 0.02 })
      expectNear(response88[node]!.value, blurred(node), { abs: 0.01 })
    }
  })

  it('do not take noise for detail: over 24 stills by night their mean is the blur, A holds the truth, and nothing is said of the camera', () => {
    const all: StripDetail[] = []
    const sums = { response24: [0, 0, 0, 0], response88: [0, 0, 0, 0], held: 0 }
    const area = Array.from({ length: 100 }, (_, n) => gaussianPixelResponse(0.7, (n + 0.5) / 200) / 200)
    const truth = 140 * area.reduce((sum, value) => sum + value, 0)
    for (let seed = 0; seed < 24; seed += 1) {
      const taped = {
        rightM: 0.006 * ((seed % 4) - 1.5),
        downM: 0.01 * (seed % 4),
        turnRad: 0.008 * ((seed % 4) - 1.5),
      }
      const { light, map } = renderStrips({
        ...SCENE,
        asidePx: seed / 4,
        yawRad: 0.1 * ((seed % 4) - 1.5),
        taped,
      })
      const strip = strips(coded(sense(light, { electrons: 160, gain: 0.8, seed })), map)
      for (const node of NODES) {
        sums.response24[node]! += strip.response24[node]!.value / 24
        sums.response88[node]! += strip.response88[node]!.value / 24
      }
      if (Math.abs(strip.a - truth) <= strip.aU) sums.held += 1
      expect(strip.signs, `still ${seed}`).toEqual([])
      const { U } = figureOf((left) => (left === null ? strip.k['fine']!.k : strip.pieces[left]!.k['fine']!))
      expectNear(strip.k['fine']!.U, U, { rel: 1e-9 })
      all.push(strip)
    }
    for (const node of NODES) {
      expectNear(sums.response24[node]!, blurred(node), { abs: 0.05 })
      expectNear(sums.response88[node]!, blurred(node), { abs: 0.025 })
    }
    expect(sums.held).toBeGreaterThanOrEqual(21)
    const fours = Array.from({ length: 6 }, (_, n) => poolStrips(all.slice(4 * n, 4 * n + 4)))
    for (const { a, aU } of fours) expectNear(a, truth, { abs: aU })
    // Half, but for what is open in the print.
    const widths = (some: readonly { readonly aU: number }[]) => median(some.map(({ aU }) => aU))
    expect(widths(fours) / widths(all)).toBeLessThan(0.75)
  }, 60_000)

  it('are not found where there are none: a chart alone, and clutter', () => {
    const { light, map } = renderStrips({ ...SCENE, withStrips: false })
    expect(read(coded(light), map)).toMatchObject({ code: 'strip-not-seen' })
    const random = seededRandom(5)
    for (let n = 0; n < 20; n += 1) {
      const size = 60 + 12 * n
      const image = coded(sense(clutter(size * 2, size * 3, random), { electrons: 2000, gain: 1, seed: n }))
      const scale = size / 9
      expect(read(image, Float64Array.of(scale, 0, 10, 0, scale, 10, 0, 0, 1)).ok, `clutter ${n}`).toBe(false)
    }
  })

  it('tell nothing with a hand over one of them, or far off', () => {
    const hand = (down: number, linear: number): StripScene => ({
      ...SCENE,
      covering: (pose, paper) => {
        const aside = along(pose.centre, pose.right, 0.05)
        const centre = along(aside, pose.down, paper.heightM + (down - 5) * moduleM(paper))
        const surface = greySurface(0.045, 0.04, () => linear)
        return [{ ...pose, centre, halfWidthM: 0.045, halfHeightM: 0.04, surface }]
      },
    })
    for (const [down, linear] of [
      [7.1, 0.15],
      [7.1, 0.35],
      [7.1, 0.6],
      [2.9, 0.15],
      [2.9, 0.35],
    ] as const) {
      const { light, map } = renderStrips(hand(down, linear))
      const seen = read(coded(sense(light, { electrons: 800, gain: 0.8, seed: 2 })), map)
      expect(seen, `${down} ${linear}`).toMatchObject({ code: 'strip-part-covered' })
    }
    const { light, map } = renderStrips({ ...SCENE, pxPerM: 60 })
    expect(read(coded(light), map)).toMatchObject({ code: 'strip-too-small' })
  })
})

describe('signs of processing', () => {
  const signsOf = (
    blurSigmaPx: number,
    electrons: number,
    process: (light: ReturnType<typeof sense>) => ReturnType<typeof sense>,
  ): readonly string[] => {
    const { light, map } = renderStrips({ ...SCENE, blurSigmaPx })
    return strips(coded(process(sense(light, { electrons, gain: 0.8, seed: 8 }))), map).signs
  }

  it('are not told of a still that nothing was done to, sharp or soft, by day or by night', () => {
    for (const blurSigmaPx of [0.4, 0.7, 1.2])
      for (const electrons of LIGHTS)
        expect(
          signsOf(blurSigmaPx, electrons, (light) => light),
          `${blurSigmaPx} ${electrons}`,
        ).toEqual([])
  })

  it('are told of noise reduction that keeps edges and of sharpening', () => {
    for (const electrons of LIGHTS) {
      expect(signsOf(0.7, electrons, (light) => bilateral(light, 1.5, 0.12))).toContain('fine-detail-taken')
      expect(signsOf(0.7, electrons, (light) => unsharp(light, 1.5, 1.5))).toContain('sharpened')
    }
  })
})
