import { describe, expect, it } from 'vitest'
import { cubicOfP, pOfCubic } from '../../../src/lens/cubicBend.js'
import type { KnownLens } from '../../../src/lens/knownLens.js'
import { seededRandom, type Random } from '../../../src/math/random.js'
import type { Point, Quad } from '../../../src/math/point.js'
import { SNAP_BIAS_PX } from '../../../src/measure/density/axisBudget.js'
import { measureDensity } from '../../../src/measure/density/density.js'
import { simulateClicks } from '../../../src/simulate/camera/simulateClicks.js'
import { expectNear } from '../../nearly.js'
import { BOARD } from '../boardReference.js'
import { namedRadius, seenRectangle, type Scene } from '../seenRectangle.js'

// A board near a wide lens, its corners exact projections with 0.1 px of noise and a common shift outward as snapped ones have. The lens is handed in as a walk would know it: its bend q and
// ln F drawn around the truth with the covariance that is stated. Truth: the local Jacobian of the exact projection.
const BOARDS = 600
const SIGMA_PX = 0.1
const SIGMA_Q = 0.01
const SIGMA_LOG_F = 0.004
const still = { width: 3840, height: 2160 }
// Cut to a fifth of a millimetre: a rectangular millimetre would be most of the uncertainty, and twice its standard deviation covers all of it.
const board = { ...BOARD, widthToleranceM: 0.0002, heightToleranceM: 0.0002 }

const between = (random: Random, low: number, high: number): number => low + (high - low) * random.uniform()

/** 3840 px span 100 degrees. */
const centralPxPerRadian = (p: number): number => 1920 / namedRadius(p, (50 * Math.PI) / 180)

function sceneOf(p: number, random: Random): Scene {
  return {
    ...still,
    p,
    pixelsPerRadian: centralPxPerRadian(p),
    widthM: board.widthM + between(random, -1, 1) * board.widthToleranceM,
    heightM: board.heightM + between(random, -1, 1) * board.heightToleranceM,
    distanceM: between(random, 1.2, 4),
    bearingDeg: between(random, -32, 32),
    downDeg: between(random, -12, 12),
    yawDeg: between(random, -25, 25),
    pitchDeg: between(random, -25, 25),
    rollDeg: between(random, -20, 20),
  }
}

function knownAround(scene: Scene, random: Random): KnownLens {
  const [first, second] = [random.normal(), random.normal()]
  // Measured together, bend and F lean on each other: here they are correlated by a half.
  const p = pOfCubic(cubicOfP(scene.p) + SIGMA_Q * first)
  const logF = SIGMA_LOG_F * (0.5 * first + Math.sqrt(0.75) * second)
  return {
    lens: {
      p,
      pixelsPerRadian: scene.pixelsPerRadian * Math.exp(logF),
      centreX: still.width / 2,
      centreY: still.height / 2,
    },
    varianceQ: SIGMA_Q ** 2,
    covariance: 0.5 * SIGMA_Q * SIGMA_LOG_F,
    varianceLogF: SIGMA_LOG_F ** 2,
  }
}

function reading(p: number, seed: number) {
  const random = seededRandom(seed)
  const sums = {
    plain: { covered: 0, biasRel: 0, widthRel: 0 },
    through: { covered: 0, biasRel: 0, widthRel: 0 },
  }
  for (let i = 0; i < BOARDS; i++) {
    const scene = sceneOf(p, random)
    const truth = seenRectangle(scene)
    const corners = simulateClicks(
      truth.corners,
      { sigmaPx: SIGMA_PX, outwardPx: SNAP_BIAS_PX * random.normal() },
      random,
    )
    const pick = { kind: 'corners', method: 'snapped', corners, sigmaPx: SIGMA_PX } as const
    const context = { stillWidth: still.width, stillHeight: still.height, distanceM: scene.distanceM }
    const onTarget = Math.min(truth.horizontal, truth.vertical)
    for (const [way, known] of [
      ['plain', null],
      ['through', knownAround(scene, random)],
    ] as const) {
      const measured = measureDensity(board, pick, { ...context, known })
      if (!measured.ok) throw new Error(`${measured.message}: ${JSON.stringify(scene)}`)
      const { density } = measured.value
      if (density.low <= onTarget && onTarget <= density.high) sums[way].covered += 1 / BOARDS
      sums[way].biasRel += (density.onTarget / onTarget - 1) / BOARDS
      sums[way].widthRel += (density.high - density.low) / 2 / onTarget / BOARDS
    }
  }
  return sums
}

describe('the density of a near board, its corners taken through the known lens', () => {
  it.each([1, 0.5, 0, -0.5, -1])('is covered 93 to 98 times in 100 and no longer biased, p = %d', (p) => {
    const { plain, through } = reading(p, 300 + 10 * p)
    const percent = (share: number): string => (100 * share).toFixed(2)
    for (const [name, way] of Object.entries({ plain, through })) {
      console.info(
        `p = ${p}, ${name}: covered ${percent(way.covered)} %, bias ${percent(way.biasRel)} %, half width ${percent(way.widthRel)} %`,
      )
    }
    expect(through.covered).toBeGreaterThanOrEqual(0.93)
    expect(through.covered).toBeLessThanOrEqual(0.98)
    expect(Math.abs(through.biasRel)).toBeLessThan(0.001)
    expect(through.widthRel, 'the bend term shrinks').toBeLessThan(plain.widthRel / 2)
    if (p <= 0) expect(plain.biasRel, 'what four plain corners read low').toBeLessThan(-0.004)
  })

  it('is exact where lens and corners are', () => {
    for (const p of [1, 0.5, 0, -0.5, -1]) {
      const random = seededRandom(7)
      for (let i = 0; i < 20; i++) {
        const scene = { ...sceneOf(p, random), widthM: board.widthM, heightM: board.heightM }
        const truth = seenRectangle(scene)
        const lens = { p, pixelsPerRadian: scene.pixelsPerRadian, centreX: 1920, centreY: 1080 }
        const measured = measureDensity(
          board,
          { kind: 'corners', method: 'snapped', corners: truth.corners, sigmaPx: SIGMA_PX },
          {
            stillWidth: still.width,
            stillHeight: still.height,
            known: { lens, varianceQ: 0, covariance: 0, varianceLogF: 0 },
          },
        )
        if (!measured.ok) throw new Error(measured.message)
        const { density, budget } = measured.value
        expectNear(density.horizontal!, truth.horizontal, { rel: 1e-6 }, JSON.stringify(scene))
        expectNear(density.vertical!, truth.vertical, { rel: 1e-6 }, JSON.stringify(scene))
        expect(budget.horizontal!.bendRel).toBe(0)
        expect(budget.horizontal!.lens!.loadsRel.every((load) => load === 0)).toBe(true)
      }
    }
  })

  it('is read as it lies where the lens has no image of the corners', () => {
    const corners: Quad = [
      [100, 100],
      [700, 100],
      [700, 500],
      [100, 500],
    ]
    const narrow = { p: -1, pixelsPerRadian: 300, centreX: 1920, centreY: 1080 }
    const context = { stillWidth: still.width, stillHeight: still.height, distanceM: 3 }
    const pick = { kind: 'corners', method: 'snapped', corners, sigmaPx: SIGMA_PX } as const
    const known = { lens: narrow, varianceQ: 0, covariance: 0, varianceLogF: 0 }
    const through = measureDensity(board, pick, { ...context, known })
    const plain = measureDensity(board, pick, { ...context, lens: narrow })
    expect(through).toEqual(plain)
    expect(through.ok && through.value.budget.horizontal!.bendRel).toBeGreaterThan(0)
  })
})

describe('a length through a known lens', () => {
  it('has the density at its middle, exact where it lies square to its ray', () => {
    const scene: Scene = { ...sceneOf(-0.5, seededRandom(1)), widthM: 1, heightM: 1e-3, distanceM: 1.5 }
    const square = { ...scene, yawDeg: 0, pitchDeg: 0, rollDeg: 0, bearingDeg: 25, downDeg: 5 }
    const { corners, horizontal } = seenRectangle(square)
    const middle = (a: Point, b: Point): Point => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2]
    const ends = [middle(corners[0], corners[3]), middle(corners[1], corners[2])] as const
    const staff = { kind: 'length', name: 'staff', lengthM: 1, toleranceM: 0 } as const
    const lens = { p: -0.5, pixelsPerRadian: square.pixelsPerRadian, centreX: 1920, centreY: 1080 }
    const known = { lens, varianceQ: 0, covariance: 0, varianceLogF: 0 }
    const context = { stillWidth: still.width, stillHeight: still.height, distanceM: 1.5 }
    const read = (through: KnownLens | null) => {
      const pick = { kind: 'ends', method: 'snapped', ends, sigmaPx: SIGMA_PX } as const
      const measured = measureDensity(staff, pick, { ...context, known: through })
      if (!measured.ok) throw new Error(measured.message)
      return measured.value.density.onTarget
    }
    expectNear(
      read(known),
      horizontal,
      { rel: 2e-3 },
      'the middle of the image is near the image of the middle',
    )
    expect(read(null)).toBeLessThan(0.98 * horizontal)
  })
})
