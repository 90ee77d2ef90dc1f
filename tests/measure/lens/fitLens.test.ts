import { describe, expect, it } from 'vitest'
import { cubicOfP } from '../../../src/lens/cubicBend.js'
import { seededRandom, type Random } from '../../../src/math/random.js'
import { fitLens, type FittedLens } from '../../../src/measure/lens/fitLens.js'
import { expectNear } from '../../nearly.js'
import { EIGHT_PLACES, lensWalk, pixelsPerRadianOf, STILL, type LensScene } from '../simulatedLensWalk.js'

// The lens fitted to simulated walks; the asked figures: p within 0.1 from eight charts or snapped boards over 60 % of the frame, F within 2 %
// of the truth, intervals that cover 93 to 98 times in 100. A reader of a failure gets the measured figures from the console.
const WALKS = 100
const TAPE_M = 0.02

const snappedBoards = (p: number): LensScene => ({
  p,
  pixelsPerRadian: pixelsPerRadianOf(p, 100),
  places: EIGHT_PLACES,
  widthM: 0.6,
  heightM: 0.4,
  toleranceM: 0.001,
  tapeToleranceM: TAPE_M,
  sigmaPx: 0.1,
  clicked: false,
})

function fitted(scene: LensScene, seed: number, walks = WALKS): FittedLens[] {
  const random = seededRandom(seed)
  return Array.from({ length: walks }, () => {
    const fit = fitLens(lensWalk(scene, random), {
      ...STILL,
      tapeToleranceM: scene.tapeToleranceM,
      offsetSigmaM: 0.03,
    })
    if (!fit.ok) throw new Error(fit.message)
    return fit.value
  })
}

describe('a lens fitted to eight snapped boards over 60 % of the frame', () => {
  const all = { walks: 0, q: 0, F: 0 }
  it.each([1, 0.5, 0, -0.5])('has p within 0.1 and F near the truth: p = %d', (p) => {
    const scene = snappedBoards(p)
    const fits = fitted(scene, 40 + 10 * p)
    const share = (holds: (fit: FittedLens) => boolean): number => fits.filter(holds).length / fits.length
    const logF = Math.log(scene.pixelsPerRadian)
    const near = share((fit) => Math.abs(fit.p - p) <= 0.1)
    const good = share((fit) => Math.abs(Math.expm1(fit.lights[0]!.logF - logF)) <= 0.02)
    const coveredQ = share((fit) => Math.abs(fit.q - cubicOfP(p)) <= 1.96 * Math.sqrt(fit.varianceQ))
    const coveredF = share(
      ({ lights: [day] }) => Math.abs(day!.logF - logF) <= 1.96 * Math.sqrt(day!.varianceLogF),
    )
    const rms = Math.sqrt(fits.reduce((sum, fit) => sum + (fit.p - p) ** 2, 0) / fits.length)
    const left = share((fit) => fit.leftOut !== null)
    console.info(
      `p = ${p}: within 0.1 ${near}, rms ${rms.toFixed(3)}; F within 2 % ${good}; covered p ${coveredQ}, F ${coveredF}; a mark left out ${left}`,
    )
    expect(near, 'at 0 p follows the root of what the stills tell').toBeGreaterThanOrEqual(p === 0 ? 0.9 : 1)
    expect(good).toBeGreaterThanOrEqual(0.99)
    expect(left).toBeLessThanOrEqual(0.02)
    all.walks += fits.length
    all.q += coveredQ * fits.length
    all.F += coveredF * fits.length
  })

  it('states intervals that cover 93 to 98 times in 100', () => {
    console.info(`over all: covered p ${all.q / all.walks}, F ${all.F / all.walks} of ${all.walks}`)
    for (const covered of [all.q, all.F]) {
      expect(covered / all.walks).toBeGreaterThanOrEqual(0.93)
      expect(covered / all.walks).toBeLessThanOrEqual(0.98)
    }
  })
})

describe('the fit', () => {
  it('is exact where corners, sizes and tape are', () => {
    for (const p of [1, 0.5, 0, -0.5, -1]) {
      const scene = { ...snappedBoards(p), toleranceM: 0, tapeToleranceM: 0, sigmaPx: 1e-6 }
      for (const turned of [0, 0.7]) {
        const fit = fitLens(
          lensWalk(scene, noScatter(turned)).map((still) => ({ ...still, covariancePx2: diagonal(1e-4) })),
          { ...STILL, tapeToleranceM: 0, offsetSigmaM: 1e-6 },
        )
        if (!fit.ok) throw new Error(fit.message)
        expectNear(fit.value.q, cubicOfP(p), { abs: 1e-4 }, `p = ${p}`)
        expectNear(Math.exp(fit.value.lights[0]!.logF), scene.pixelsPerRadian, { rel: 1e-4 })
      }
    }
  })

  it('leaves out the one mark whose tape is wrong', () => {
    const random = seededRandom(8)
    for (const index of [0, 3, 7]) {
      const stills = lensWalk({ ...snappedBoards(0), wrong: { index, ratio: 1.15 } }, random).map(
        // Every stand a mark of its own, so that the wrong one alone can be left out.
        (still, i) => ({ ...still, distanceM: still.distanceM + 0.001 * i }),
      )
      const fit = fitLens(stills, { ...STILL, tapeToleranceM: TAPE_M, offsetSigmaM: 0.03 })
      if (!fit.ok) throw new Error(fit.message)
      expect(fit.value.leftOut?.distanceM).toBe(stills[index]!.distanceM)
      expectNear(fit.value.q, 0, { abs: 0.006 })
    }
  })

  it('says little of p where all references stand in the middle of the picture', () => {
    const middle = EIGHT_PLACES.map((_, i) => ({ distanceM: 4 + 2 * i, bearingDeg: 0, downDeg: 0 }))
    const [fit] = fitted({ ...snappedBoards(0), places: middle, sigmaPx: 0.5, clicked: true }, 3, 1)
    expect(Math.sqrt(fit!.varianceQ)).toBeGreaterThan(0.08)
  })

  it('needs three stills', () => {
    const stills = lensWalk(snappedBoards(1), seededRandom(1)).slice(0, 2)
    expect(fitLens(stills, { ...STILL, tapeToleranceM: TAPE_M, offsetSigmaM: 0.03 })).toMatchObject({
      ok: false,
      code: 'too-few-stills',
    })
  })
})

function diagonal(variance: number): number[][] {
  return Array.from({ length: 8 }, (_, i) => Array.from({ length: 8 }, (__, j) => (i === j ? variance : 0)))
}

/** No draw but the references' turn: the first normal one is the tape's offset. */
function noScatter(turned: number): Random {
  let drawn = 0
  return { uniform: () => 0.5, normal: () => (drawn++ === 0 ? 0 : turned) }
}
