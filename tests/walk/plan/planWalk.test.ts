import { describe, expect, it } from 'vitest'
import { parseWalk } from '../../../src/walk/read/parseWalk.js'
import { planTable } from '../../../src/cli/folders/planTable.js'
import { planJson } from '../../../src/walk/plan/planJson.js'
import { stillOf, stillsToTake } from '../../../src/walk/plan/stillsToTake.js'
import { planWalk, type WalkPlan } from '../../../src/walk/plan/planWalk.js'
import { groundWords, lensWords, paperWords } from '../../../src/walk/plan/planWords.js'
import type { Walk } from '../../../src/walk/read/walk.js'
import { expectNear } from '../../nearly.js'
import { FULL_WALK, SHORT_WALK } from '../walkText.js'

async function planned(text: string): Promise<{ walk: Walk; plan: WalkPlan }> {
  const walk = await parseWalk(text, { file: 'walk.yaml', dir: '.', sha256: '' })
  return { walk, plan: planWalk(walk) }
}

/** The full walk with a sheet of angles alone. */
const ANGLES = FULL_WALK.replace(/ {2}focalLength.*\n {2}sensor.*\n {2}pixelPitch.*\n/, '')

/** With a focal length and a pixel pitch that the sensor contradicts, and no angle. */
const PITCH = FULL_WALK.replace(/ *fieldOfView.*\n/, '')

describe('a plan', () => {
  it('reads 100 by 52 degrees on 3840 x 2160 as a bent lens, by both angles, with what their digits leave', async () => {
    const { plan } = await planned(ANGLES)
    expect(plan.contradictions).toEqual([])
    expect(plan.readings.map(({ code }) => code)).toEqual(['angles-not-rectilinear', 'digits-leave'])
    // A plain lens with 100 degrees across sees 2 atan(tan 50 x 9/16) = 67.672 degrees up and down.
    expect(plan.readings[0]!.message).toContain('67.7 degrees over 2160 px, not 52')
    const recognise = plan.ranges.find(({ grade }) => grade.id === 'recognise')!
    expectNear(recognise.rectilinearDistanceM!, 1611.07 / 125, { rel: 1e-4 }, '1920 / tan 50 degrees')
    // The other member of the family, by hand: sin(0.911 x 50) / sin(0.911 x 26 degrees) = 16/9 to three digits.
    const F = (1920 * 0.911) / Math.sin((0.911 * 50 * Math.PI) / 180)
    expectNear(recognise.distanceM!, F / 125, { rel: 0.003 }, 'p by hand to three digits')
    // By the same two sines to three digits 99.5 by 52.5 degrees ask for p = -0.83 and 2415 px per radian, 100.5 by 51.5 for -0.977 and 2482.
    const { low, high } = plan.reading!.bounds!
    expectNear(low, 2415, { rel: 0.003 })
    expectNear(high, 2482, { rel: 0.003 })
    expectNear(recognise.boundsM!.low, low / 125, { rel: 1e-12 })
    expectNear(recognise.boundsM!.high, high / 125, { rel: 1e-12 })
    expect(lensWords(plan)).toMatch(
      /^read as lens type p = -0\.91 \(.*\): 24\d\d px per radian.* would have 1611 in the middle/,
    )
  })

  it('tells every contradiction of a sheet, each by how much', async () => {
    const { plan } = await planned(FULL_WALK)
    expect(plan.contradictions.map(({ code }) => code)).toEqual([
      'pitch-of-another-mode',
      'angle-impossible',
      'sensor-against-pixel-pitch',
    ])
    for (const { relative, message } of plan.contradictions) {
      expect(Math.abs(relative)).toBeGreaterThan(0.03)
      expect(message).toMatch(/They cannot all be right|Proofwalk uses|would agree with the rest/)
    }
  })

  it.each([
    ['a pixel pitch of another mode', PITCH, 'pitch-of-another-mode'],
    ['exchanged angles', ANGLES.replace('100, vertical: 52', '52, vertical: 100'), 'angles-exchanged'],
    ['corridor mode', ANGLES.replace('3840, height: 2160', '2160, height: 3840'), 'picture-turned'],
    [
      'the diagonal for the horizontal angle',
      ANGLES.replace('100, vertical: 52', '43, vertical: 21.8'),
      'diagonal-for-horizontal',
    ],
  ])(
    'names %s before anything, and foretells nothing on top of it (first build, 4.6)',
    async (_, text, code) => {
      const { walk, plan } = await planned(text)
      expect(plan.contradictions[0]!.code).toBe(code)
      const { lens, marks, ranges, contradictions, paper } = planJson(plan)
      expect([lens, paper, contradictions[0]!.code]).toEqual([null, null, code])
      for (const { density, densityAtEdge, rectilinearDensity, widthOfView } of marks)
        expect([density, densityAtEdge, rectilinearDensity, widthOfView]).toEqual([null, null, null, null])
      expect(ranges.every(({ distance }) => distance === null)).toBe(true)
      expect(plan.ground).toBeNull()
      const printed = planTable(walk, plan)
      expect(printed).toContain(plan.contradictions[0]!.message)
      expect(printed).toContain('nothing is predicted until it agrees')
      expect(printed).not.toMatch(/should hold|falls short|px per radian/)
    },
  )

  it('prints beside every figure foretold what the digits leave, and decides by it', async () => {
    const { walk, plan } = await planned(ANGLES)
    const printed = planTable(walk, plan)
    // 2415 to 2483 px per radian over 16 m are 150.9 to 155.2 px/m; 125 px/m are reached out to 19.32 to 19.86 m.
    expect(printed).toMatch(/^ +16 m +\S+ m +153 +150\.9 to 155\.2 /m)
    expect(printed).toMatch(/^ +Recognise +125 +10\.0 +19\.59 m +19\.32 to 19\.86 /m)
    expect(printed).toMatch(
      /^ +6 +Recognise +16 m +day +every +125 +153 +150\.9 to 155\.2 +101 +127 +depends on the lens$/m,
    )
    const near = await planned(ANGLES.replace('at: 16 m', 'at: 19.5 m'))
    expect(planTable(near.walk, near.plan)).toMatch(/19\.5 m .*too close to say$/m)
  })

  it('numbers the stills in the order they are taken, and names for each promise the one that shows it', async () => {
    const { walk, plan } = await planned(ANGLES)
    const stills = stillsToTake(walk, plan)
    expect(stills.map(({ number }) => number)).toEqual(stills.map((_, index) => index + 1))
    expect(stills.slice(0, 9).map(({ light, mark }) => [light, mark?.distanceM ?? 'walking'])).toEqual([
      ...[4, 5, 6, 9, 12, 16, 20, 'walking'].map((mark) => ['day', mark]),
      ['infrared', 4],
    ])
    expect(plan.promises.map((promise) => stillOf(promise, stills))).toEqual([6, 10])
  })

  it('says what a still must show for its whole interval to reach the limit', async () => {
    const needed = async (text: string): Promise<(number | null)[]> =>
      (await planned(text)).plan.promises.map(({ neededPxPerM }) => neededPxPerM)
    const [recognise, identify] = await needed(ANGLES)
    for (const [need, limit] of [
      [recognise!, 125],
      [identify!, 250],
    ] as const) {
      expect(need).toBeGreaterThan(limit)
      expect(need).toBeLessThan(1.1 * limit)
    }
    // A looser tape needs more, and so do the corners of a smaller board; what must not be seen needs less.
    const tape = await needed(ANGLES.replace('tolerance: 0.05 m', 'tolerance: 1 m'))
    expect(tape[0]).toBeGreaterThan(1.01 * recognise!)
    const small = await needed(
      ANGLES.replace('width: 600 mm, height: 400 mm', 'width: 60 mm, height: 40 mm').replace(
        'tolerance: 1 mm',
        'tolerance: 0.1 mm',
      ),
    )
    expect(small[1]).toBeGreaterThan(1.005 * identify!)
    const most = await needed(ANGLES.replace('{ grade: recognise, at: 16 m', '{ atMost: recognise, at: 16 m'))
    expect(most[0]).toBeLessThan(125)
    expect(await needed(ANGLES.replace(/ {2}image:.*\n/, ''))).toEqual([null, null])
  })

  it('says of each promise what the sheet lets one expect, and stands a mark at each', async () => {
    const { plan } = await planned(ANGLES)
    expect(plan.marks.map(({ distanceM }) => distanceM)).toEqual([4, 5, 6, 9, 12, 16, 20])
    const [first] = plan.promises
    expectNear(first!.densityPxPerM!, plan.reading!.lens!.pixelsPerRadian / 16, { rel: 1e-12 })
  })

  it('has of a walk without a data sheet marks to tape, and says what is missing', async () => {
    const { plan } = await planned(SHORT_WALK)
    expect(planJson(plan)).toMatchObject({ lens: null, paper: null, contradictions: [] })
    expect(plan.marks.length).toBeGreaterThanOrEqual(6)
    expect(plan.marks.every(({ densityPxPerM }) => densityPxPerM === null)).toBe(true)
    expect(plan.missing.join(' ')).toMatch(
      /camera\.image.*camera\.fieldOfView.*camera\.mountHeight.*camera\.tilt.*promises/,
    )
    expect(lensWords(plan)).toBeNull()
    expect((await planned(ANGLES)).plan.missing).toEqual([
      expect.stringMatching(/^the sheet of strips, .* no promise by detail can be met in infrared$/),
    ])
    const carried = ANGLES.replace(/^( {2}board: \{)/m, '$1 strip: A3,')
    expect((await planned(carried)).plan.missing).toEqual([])
    const byPixels = ANGLES.replace(/^judge: .*\n/m, '').replace(/^site:/m, 'judge: pixels\nsite:')
    expect((await planned(byPixels)).plan.missing).toEqual([])
    const oneAngle = ANGLES.replace(', vertical: 52', '')
    expect((await planned(oneAngle)).plan.missing.join(' ')).toContain('second angle')
  })

  it('prints for other programs exactly the keys they were promised', async () => {
    expect(Object.keys(planJson((await planned(FULL_WALK)).plan).contradictions[0]!)).toEqual([
      'code',
      'message',
      'relative',
    ])
    const json = planJson((await planned(ANGLES)).plan)
    expect(Object.keys(json)).toEqual([
      'lens',
      'marks',
      'ranges',
      'contradictions',
      'readings',
      'tape',
      'paper',
    ])
    expect(Object.keys(json.readings[0]!)).toEqual(['code', 'message'])
    expect(Object.keys(json.lens!)).toEqual([
      'p',
      'pixelsPerRadian',
      'edgePixelsPerRadian',
      'rectilinearPixelsPerRadian',
    ])
    expect(Object.keys(json.marks[0]!)).toEqual([
      'distance',
      'density',
      'densityAtEdge',
      'rectilinearDensity',
      'widthOfView',
    ])
    expect(Object.keys(json.ranges[0]!)).toEqual(['grade', 'distance'])
    expect(json.tape).toEqual(json.marks.map(({ distance }) => distance))
  })

  it('chooses the paper by the worst light and the poorer reading of the sheet', async () => {
    const { plan, walk } = await planned(ANGLES)
    // 1611 px per radian over 20 m are 80.6 px/m: an A3's modules of 29.7 mm get 2.39 px, an A2's of 42 mm 3.38 of the 2.5 needed.
    expect(plan.paper).toMatchObject({ light: 'infrared', pxPerModule: 2.5, carriedTooSmall: null })
    expect(plan.paper!.paper!.id).toBe('A2')
    expectNear(plan.paper!.reachM, (1611.07 * 0.042) / 2.5, { rel: 1e-4 })
    expect(paperWords(plan, walk.units)).toContain('measured by this project')
    const byDay = await planned(
      ANGLES.replace('lights: [day, infrared]', 'lights: [day]').replace(
        /^.*(infrared|observations).*\n/gm,
        '',
      ),
    )
    expect(byDay.plan.paper!.paper!.id, '80.6 px/m give the 21 mm modules of an A4 1.69 of 1.5').toBe('A4')
    const small = await planned(
      ANGLES.replace('staff: { length: 2 m, tolerance: 2 mm }', 'chart: { chart: A4 }'),
    )
    expect(paperWords(small.plan, 'metric')).toContain("The walk's own chart is smaller")
  })

  it('says where the view begins on the ground, and which marks lie outside it', async () => {
    const { plan, walk } = await planned(ANGLES.replace('tilt: 12', 'tilt: 0'))
    // Half of 52 degrees down from 2.6 m: 5.33 m; to the board's middle at 1.1 m 1.5 m lower: 3.08 m.
    expectNear(plan.ground!.beginsM, 2.6 / Math.tan((26 * Math.PI) / 180), { rel: 1e-6 })
    expectNear(plan.atReference!.beginsM, 1.5 / Math.tan((26 * Math.PI) / 180), { rel: 1e-6 })
    expect(plan.ground!.endsM).toBeNull()
    expect(groundWords(plan, walk)[1]).toMatch(/carried board is in view from 3\.08 m$/)
    const near = await planned(ANGLES.replace('tilt: 12', 'tilt: -15').replace('[4 m,', '[3 m, 4 m,'))
    expect(groundWords(near.plan, near.walk)[1]).toMatch(/out of the picture at 3 m, 4 m, 5 m, 6 m$/)
    const noAngle = await planned(ANGLES.replace(/ *fieldOfView.*\n/, ''))
    expect(groundWords(noAngle.plan, noAngle.walk), 'nothing is said of a view nobody told').toEqual([])
    const mark = plan.marks.find(({ distanceM }) => distanceM === 4)!
    expectNear(mark.alongGroundM!, Math.sqrt(16 - 2.25), { rel: 1e-12 })
  })
})
