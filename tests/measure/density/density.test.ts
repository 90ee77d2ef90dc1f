import { describe, expect, it } from 'vitest'
import { measureDensity } from '../../../src/measure/density/density.js'
import type { MeasuredDensity, DensityContext } from '../../../src/measure/density/measuredDensity.js'
import type { Pick } from '../../../src/measure/reference/pick.js'
import type { LengthReference, RectangleReference } from '../../../src/measure/reference/reference.js'
import type { Point, Quad } from '../../../src/math/point.js'
import { seededRandom } from '../../../src/math/random.js'
import { expectNear } from '../../nearly.js'
import { seenRectangle, type Scene } from '../seenRectangle.js'

const board: RectangleReference = {
  kind: 'rectangle',
  name: 'board',
  widthM: 0.6,
  heightM: 0.4,
  widthToleranceM: 0.001,
  heightToleranceM: 0.001,
  marking: 'plain',
}
const plate: RectangleReference = {
  ...board,
  name: 'plate',
  widthM: 0.52,
  heightM: 0.11,
  marking: 'characters',
}
const staff: LengthReference = { kind: 'length', name: 'staff', lengthM: 2, toleranceM: 0.002 }
const still: DensityContext = { stillWidth: 3840, stillHeight: 2160, distanceM: 5 }
const EXACT = { rel: 1e-9 }

const corners = (quad: Quad, more: Partial<Pick> = {}): Pick =>
  ({ kind: 'corners', corners: quad, sigmaPx: 0.5, method: 'hand', ...more }) as Pick
const ends = (a: Point, b: Point, more: Partial<Pick> = {}): Pick =>
  ({ kind: 'ends', ends: [a, b], sigmaPx: 0.5, method: 'hand', ...more }) as Pick

function densityOf(...args: Parameters<typeof measureDensity>): MeasuredDensity {
  const measured = measureDensity(...args)
  if (!measured.ok) throw new Error(measured.message)
  return measured.value
}

const scene: Scene = {
  p: 1,
  pixelsPerRadian: 2000,
  width: 3840,
  height: 2160,
  widthM: 0.6,
  heightM: 0.4,
  distanceM: 5,
}

/** A level rectangle of the picture, clockwise from its top left. */
const level = (x: number, y: number, width: number, height: number): Quad => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
]

describe('the density of a rectangle', () => {
  it('is pixels over metres along both axes where it fills a level rectangle', () => {
    const { density } = densityOf(board, corners(level(100, 200, 300, 160)), still)
    expectNear(density.horizontal!, 300 / 0.6, EXACT)
    expectNear(density.vertical!, 160 / 0.4, EXACT)
    expectNear(density.onTarget, 400, EXACT)
    expectNear(density.facing!, 500, EXACT, 'without a lens the larger singular value')
  })

  it('is that of the exact projection where the lens is flat, in any pose', () => {
    const random = seededRandom(3)
    for (let i = 0; i < 40; i++) {
      const truth = seenRectangle({
        ...scene,
        bearingDeg: 30 * (random.uniform() - 0.5),
        downDeg: 20 * (random.uniform() - 0.5),
        yawDeg: 60 * (random.uniform() - 0.5),
        pitchDeg: 40 * (random.uniform() - 0.5),
        rollDeg: 300 * (random.uniform() - 0.5),
      })
      const { density } = densityOf(board, corners(truth.corners), still)
      expectNear(
        density.horizontal!,
        truth.horizontal,
        { rel: 1e-7 },
        'the truth is a difference over 0.1 mm',
      )
      expectNear(density.vertical!, truth.vertical, { rel: 1e-7 })
    }
  })

  it('halves where the target stands twice as far, facing', () => {
    const near = densityOf(board, corners(seenRectangle(scene).corners), still).density
    const far = densityOf(board, corners(seenRectangle({ ...scene, distanceM: 10 }).corners), still).density
    expectNear(far.onTarget, near.onTarget / 2, EXACT)
    expectNear(near.onTarget, 2000 / 5, EXACT)
  })

  it('does not change where corners and size are renamed together', () => {
    const [a, b, c, d] = seenRectangle({ ...scene, yawDeg: 20, pitchDeg: -12 }).corners
    const before = densityOf(board, corners([a, b, c, d]), still)
    const turned = { ...board, widthM: board.heightM, heightM: board.widthM }
    const after = densityOf(turned, corners([b, c, d, a]), still)
    expectNear(after.density.horizontal!, before.density.vertical!, EXACT)
    expectNear(after.density.verticalU!, before.density.horizontalU!, { rel: 1e-6 }, 'numeric derivatives')
    for (const key of ['onTarget', 'low', 'high', 'facing'] as const) {
      expectNear(after.density[key]!, before.density[key]!, { rel: 1e-6 }, key)
    }
  })

  it('swaps the sides of a board that stands turned by 90 degrees, and never sorts by position', () => {
    const upright = densityOf(board, corners(seenRectangle(scene).corners), still)
    const quad = seenRectangle({ ...scene, rollDeg: 90 }).corners
    expect(quad[0][0], 'its own top left is at the right in the picture').toBeGreaterThan(scene.width / 2)
    const turned = densityOf(board, corners(quad), still)
    expect(turned.corners).toEqual(quad)
    expectNear(turned.density.horizontal!, upright.density.horizontal!, EXACT)
    expectNear(turned.density.vertical!, upright.density.vertical!, EXACT)
    const byPosition = densityOf(board, corners([quad[3], quad[0], quad[1], quad[2]]), still)
    expectNear(byPosition.density.horizontal!, upright.density.horizontal! * (0.4 / 0.6), EXACT)
  })

  it('reverses an anticlockwise set and its covariance with it, the first corner kept', () => {
    const quad = seenRectangle({ ...scene, yawDeg: 25, distanceM: 2 }).corners
    const covariance = Array.from({ length: 8 }, (_, i) =>
      Array.from({ length: 8 }, (__, j) => (i === j ? 0.01 * (1 + i) : i >> 1 === j >> 1 ? 0.004 : 0)),
    )
    const order = [0, 3, 2, 1]
    const reversed = covariance.map((_, i) =>
      covariance.map((__, j) => covariance[2 * order[i >> 1]! + (i & 1)]![2 * order[j >> 1]! + (j & 1)]!),
    )
    const clockwise = densityOf(board, corners(quad, { method: 'snapped', covariancePx2: covariance }), still)
    const anticlockwise = densityOf(
      board,
      corners([quad[0], quad[3], quad[2], quad[1]], { method: 'snapped', covariancePx2: reversed }),
      still,
    )
    expect(anticlockwise).toEqual(clockwise)
    expect(clockwise.budget.horizontal!.cornersRel).not.toBe(clockwise.budget.vertical!.cornersRel)
  })
})

describe('the uncertainty of a rectangle', () => {
  const level400 = corners(level(1000, 1000, 300, 200))

  it('has the parts worked out by hand for a level rectangle', () => {
    const { budget, density } = densityOf(board, level400, still)
    const h = budget.horizontal!
    // The width at the centre is the mean of two sides, each a difference of two clicks: variance 2 s^2 / 2.
    expectNear(h.cornersRel, 0.5 / 300, { rel: 1e-6 })
    expectNear(h.sizeRel, 0.001 / 0.6 / Math.sqrt(3), EXACT)
    expectNear(h.bendRel, (0.37 * (Math.hypot(0.6, 0.4) / 2 / 5) ** 2) / Math.sqrt(3), EXACT)
    expectNear(h.clickBiasRel, 0.4 / 300, { rel: 1e-6 }, 'outward at both ends, so the density reads high')
    expectNear(budget.vertical!.cornersRel, 0.5 / 200, { rel: 1e-6 })
    const U = (axis: typeof h): number =>
      axis.densityPxPerM *
      (2 * Math.hypot(axis.cornersRel, axis.sizeRel, axis.clickBiasRel) + Math.sqrt(3) * axis.bendRel)
    expectNear(density.horizontalU!, U(h), EXACT)
    expectNear(density.low, Math.min(500 - density.horizontalU!, 500 - density.verticalU!), EXACT)
    expectNear(density.high, Math.min(500 + density.horizontalU!, 500 + density.verticalU!), EXACT)
  })

  it('matches the scatter of simulated clicks in a turned pose', () => {
    const random = seededRandom(9)
    const quad = seenRectangle({ ...scene, yawDeg: 28, pitchDeg: -15, rollDeg: 12 }).corners
    const { budget } = densityOf(board, corners(quad), still)
    for (const axis of ['horizontal', 'vertical'] as const) {
      let squares = 0
      const clicks = 4000
      for (let i = 0; i < clicks; i++) {
        const noisy = quad.map(([x, y]): Point => [x + random.normal() / 2, y + random.normal() / 2])
        const { density } = densityOf(board, corners(noisy as unknown as Quad), still)
        squares += (density[axis]! / budget[axis]!.densityPxPerM - 1) ** 2
      }
      const scatter = Math.sqrt(squares / clicks)
      expectNear(budget[axis]!.cornersRel, scatter, { rel: 0.045 }, 'four standard errors of 4000 draws')
    }
  })

  it('has the bias of clicks where they were clicked, that of an unknown tone curve where they were snapped, none where found', () => {
    const biasRel = (method: 'hand' | 'snapped' | 'found'): number => {
      const { budget } = densityOf(board, corners(level(1000, 1000, 300, 200), { method }), still)
      return budget.horizontal!.clickBiasRel
    }
    // a side of 300 px grows by twice the bias, which is 0.2 and 0.07 px an end
    expectNear(biasRel('hand'), 0.4 / 300, { abs: 1e-8 }, 'clicked')
    expectNear(biasRel('snapped'), 0.14 / 300, { abs: 1e-8 }, 'snapped')
    expect(biasRel('found')).toBe(0)
  })

  it('sizes the bend by the share of the frame where nothing tells the distance, and by the lens where it does', () => {
    const quad = seenRectangle(scene).corners
    const unknown = densityOf(board, corners(quad), { ...still, distanceM: null })
    const diagonal = (Math.hypot(0.6, 0.4) * 400) / Math.hypot(3840, 2160)
    expectNear(unknown.budget.horizontal!.bendRel, (0.37 * diagonal ** 2) / Math.sqrt(3), { rel: 1e-6 })
    const lens = { p: 1, pixelsPerRadian: 2000, centreX: 1920, centreY: 1080 }
    const known = densityOf(board, corners(quad), { ...still, distanceM: null, lens })
    const taped = densityOf(board, corners(quad), still)
    expectNear(known.budget.horizontal!.bendRel, taped.budget.horizontal!.bendRel, { rel: 1e-6 })
  })

  it('never gives a lower end below zero', () => {
    const tiny = densityOf(plate, corners(level(100, 100, 7, 1.5), { sigmaPx: 1 }), still)
    expect(tiny.density.low).toBe(0)
    expect(tiny.density.high).toBeGreaterThan(tiny.density.onTarget)
  })

  it('says that the height decides on a clicked plate, not on a board, nor once the corners are snapped finely', () => {
    const far = { ...scene, widthM: 0.52, heightM: 0.11, distanceM: 14 }
    const codes = (reference: RectangleReference, pick: Pick): string[] =>
      densityOf(reference, pick, still).problems.map((problem) => problem.code)
    const clickedPlate = densityOf(plate, corners(seenRectangle(far).corners), still)
    expect(clickedPlate.problems).toMatchObject([{ code: 'height-decides' }])
    expect(clickedPlate.problems[0]!.message).toMatch(/zoom in and click more exactly, or carry a board$/)
    const boardThere = { ...far, widthM: 0.6, heightM: 0.4 }
    expect(codes(board, corners(seenRectangle(boardThere).corners))).toEqual([])
    const snapped = corners(seenRectangle({ ...far, distanceM: 4 }).corners, {
      method: 'snapped',
      sigmaPx: 0.02,
    })
    expect(codes(plate, snapped)).toEqual([])
  })
})

describe('with a lens', () => {
  const lens = { p: 1, pixelsPerRadian: 2000, centreX: 1920, centreY: 1080 }

  it('tells the pose, and what a target square to the ray would get', () => {
    const turned = densityOf(board, corners(seenRectangle({ ...scene, yawDeg: 28 }).corners), {
      ...still,
      lens,
    })
    expectNear(turned.pose!.yaw, 28, { abs: 1e-4 })
    expectNear(turned.density.facing!, 400, { rel: 1e-6 })
    expectNear(turned.density.onTarget, 400 * Math.cos((28 * Math.PI) / 180), { rel: 1e-3 })
    expect(turned.density.high).toBeLessThan(turned.density.facing!)
  })

  it('has no pose without one', () => {
    expect(densityOf(board, corners(seenRectangle(scene).corners), still).pose).toBeNull()
  })

  it('measures on, without a pose and saying so, where the lens cannot have shown these corners', () => {
    const wrong = { p: -1, pixelsPerRadian: 100, centreX: 0, centreY: 0 }
    const measured = densityOf(board, corners(seenRectangle(scene).corners), { ...still, lens: wrong })
    expect(measured.pose).toBeNull()
    expect(measured.problems).toMatchObject([{ code: 'pose-unknown' }])
    expectNear(measured.density.onTarget, 400, EXACT)
  })
})

describe('the density of a length', () => {
  it('is along itself only, with the budget worked out by hand', () => {
    const { density, budget, pose, corners: used } = densityOf(staff, ends([100, 100], [400, 500]), still)
    expectNear(density.onTarget, 250, EXACT)
    expect([
      density.horizontal,
      density.horizontalU,
      density.vertical,
      density.verticalU,
      density.facing,
    ]).toEqual([null, null, null, null, null])
    expect([budget.horizontal, budget.vertical, pose]).toEqual([null, null, null])
    expect(used).toEqual([
      [100, 100],
      [400, 500],
    ])
    const along = budget.along!
    expectNear(along.cornersRel, (0.5 * Math.SQRT2) / 500, EXACT)
    expectNear(along.sizeRel, 0.001 / Math.sqrt(3), EXACT)
    expectNear(along.clickBiasRel, 0.4 / 500, EXACT)
    expectNear(along.bendRel, (0.37 * 0.04) / Math.sqrt(3), EXACT)
    const U = 250 * (2 * Math.hypot(along.cornersRel, along.sizeRel, along.clickBiasRel) + 0.37 * 0.04)
    expectNear(density.low, 250 - U, EXACT)
    expectNear(density.high, 250 + U, EXACT)
  })

  it('takes a covariance along the length only', () => {
    const across = [
      [0, 0, 0, 0],
      [0, 4, 0, 0],
      [0, 0, 0, 0],
      [0, 0, 0, 4],
    ]
    const measured = densityOf(staff, ends([100, 100], [600, 100], { covariancePx2: across }), still)
    expect(measured.budget.along!.cornersRel).toBe(0)
  })
})

describe('what is no outline', () => {
  const refused = (pick: Pick, reference: RectangleReference | LengthReference = board) =>
    measureDensity(reference, pick, still)
  const q = level(100, 100, 300, 200)

  it.each([
    ['corners-crossed', [q[0], q[2], q[1], q[3]]],
    ['corners-not-convex', [q[0], q[1], [150, 160], q[3]]],
    ['corners-collinear', [q[0], [250, 100], q[1], q[2]]],
    ['corners-coincident', [q[0], q[0], q[2], q[3]]],
    ['corners-outside', [q[0], [3841, 100], q[2], q[3]]],
    ['corners-not-finite', [q[0], [NaN, 100], q[2], q[3]]],
  ])('is named: %s', (code, quad) => {
    expect(refused(corners(quad as unknown as Quad))).toMatchObject({ ok: false, code })
    expect(refused(corners([quad[0], quad[3], quad[2], quad[1]] as unknown as Quad))).toMatchObject({
      ok: false,
      code,
    })
  })

  it.each([
    ['ends-coincident', [100, 100.5]],
    ['ends-outside', [100, -1]],
    ['ends-not-finite', [100, Infinity]],
  ])('is named of a length: %s', (code, end) => {
    expect(refused(ends([100, 100], end as unknown as Point), staff)).toMatchObject({ ok: false, code })
  })

  it('includes points of the other kind', () => {
    expect(refused(ends([1, 1], [9, 9]))).toMatchObject({ ok: false, code: 'pick-not-of-reference' })
    expect(refused(corners(q), staff)).toMatchObject({ ok: false, code: 'pick-not-of-reference' })
  })

  it('throws for sizes, distances and covariances that are none', () => {
    expect(() => measureDensity({ ...board, widthM: 0 }, corners(q), still)).toThrow(/positive/)
    expect(() => measureDensity(board, corners(q), { ...still, distanceM: NaN })).toThrow(/positive/)
    expect(() => measureDensity({ ...board, widthToleranceM: -1 }, corners(q), still)).toThrow(/tolerances/)
    expect(() => refused(corners(q, { sigmaPx: NaN }))).toThrow(/sigma/)
    expect(() => refused(corners(q, { covariancePx2: [[1]] }))).toThrow(/8 x 8/)
  })
})

it('leaves its inputs as they are, frozen or not', () => {
  const deepFreeze = <T>(value: T): T => {
    if (typeof value === 'object' && value !== null) Object.values(Object.freeze(value)).forEach(deepFreeze)
    return value
  }
  const args = () => [board, corners(level(100, 100, 300, 200)), still] as const
  const [reference, pick, context] = deepFreeze(structuredClone(args()))
  expect(measureDensity(reference, pick, context)).toEqual(measureDensity(...args()))
})
