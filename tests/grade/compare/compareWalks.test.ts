import { describe, expect, it } from 'vitest'
import { combineRepeats } from '../../../src/grade/marks/combineRepeats.js'
import { compareWalks } from '../../../src/grade/compare/compareWalks.js'
import type { ComparableWalk, ComparedScene } from '../../../src/grade/compare/comparison.js'
import { signedPercent } from '../../../src/grade/compare/changeWords.js'
import type { JudgedStill, PromiseResult, Verdict } from '../../../src/grade/judgement.js'
import { isWorse } from '../../../src/grade/promises/verdictOrder.js'
import { groupBy } from '../../../src/math/groupBy.js'
import { sceneLine } from '../../../src/grade/compare/sceneChange.js'
import { comparisonSentence } from '../../../src/sheet/site/comparisonSentence.js'
import { expectNear } from '../../nearly.js'
import { stillOf, type StillParts } from '../stillOf.js'

const MARKS = [4, 6, 9, 12]

interface Parts extends Partial<Omit<ComparableWalk, 'marks'>> {
  readonly of?: (distanceM: number, light: string) => StillParts
  readonly usable?: (light: string) => boolean
  readonly marksM?: readonly number[]
}

/** A walk by day and under infrared; every still is sharp and known to half a percent unless `of` says otherwise. */
function walk({ of = () => ({}), usable = () => true, marksM = MARKS, ...rest }: Parts = {}): ComparableWalk {
  return {
    method: '1',
    camera: { name: 'Loft camera', id: null, serial: null },
    stillSizes: ['3840 x 2160'],
    pictures: [],
    distanceFrom: 'camera',
    distanceToleranceM: 0.05,
    references: { board: '600 x 400 mm' },
    grading: 'iec-62676-4-2014',
    judge: 'detail',
    fullDetailAt: 0.4,
    lights: ['day', 'infrared'],
    promises: [],
    units: 'metric',
    ...rest,
    marks: ['day', 'infrared'].flatMap((light) =>
      combineRepeats(
        marksM.map((distanceM) =>
          stillOf({ distanceM, light, factor: 0.8, f10: 0.32, factorU: 0.02, ...of(distanceM, light) }),
        ),
      ).map((measured) => ({ measured, usable: usable(light) })),
    ),
  }
}

const codesOf = (before: ComparableWalk, after: ComparableWalk): string[] =>
  compareWalks(before, after).findings.map(({ code }) => code)

describe('what two walks come to', () => {
  it('nothing, where they say the same', () => {
    const { findings, marks, series } = compareWalks(walk(), walk())
    expect(findings).toEqual([])
    expect(marks).toHaveLength(8)
    for (const { density } of marks) expectNear(density.change, 0, { abs: 1e-12 }, 'the same figures')
    expect(series.map(({ light }) => light)).toEqual(['day', 'infrared'])
  })

  it('a zoom, where the density changed by the same share everywhere', () => {
    const { findings, marks } = compareWalks(walk(), walk({ of: (d) => ({ horizontal: 2120 / d }) }))
    expect(findings.map(({ code }) => code)).toEqual(['moved-or-zoomed'])
    expect(findings[0]!.message).toMatch(/\+6\.0 %.*by the same share near and far: it was zoomed/)
    for (const { density } of marks) expectNear(density.change, 0.06, { abs: 1e-9 }, 'as given')
  })

  it('a camera that moved, where near marks changed more than far ones, and by how much', () => {
    const nearer = walk({ of: (d) => ({ horizontal: 2000 / (d - 0.8) }) })
    expect(compareWalks(walk(), nearer).findings[0]!.message).toMatch(
      /more at near marks than at far ones. The camera is about 0\.(7\d|8\d|9[0-5]) m nearer to the marks/,
    )
  })

  it('focus or dirt, where every light lost detail at the same density', () => {
    const soft = walk({ of: () => ({ factor: 0.68, f10: 0.272 }) })
    const { findings, marks } = compareWalks(walk(), soft)
    expect(findings.map(({ code }) => code)).toEqual(['focus-or-dirt'])
    expectNear(marks[0]!.detail!.change, -0.15, { abs: 1e-9 }, 'the factor as given')
    expect(codesOf(soft, walk())).toEqual(['sharper'])
  })

  it('one light, where only that one lost detail, or scales, or stands out no more', () => {
    const soft = walk({ of: (_, light) => (light === 'infrared' ? { factor: 0.6, f10: 0.24 } : {}) })
    const { findings } = compareWalks(walk(), soft)
    expect(findings.map(({ code }) => code)).toEqual(['one-light'])
    expect(findings[0]!.message).toMatch(/^less detail under infrared alone: .*the infrared focus and lamp/)
    const scaled = walk({ of: (d, light) => ({ horizontal: (light === 'infrared' ? 2200 : 2000) / d }) })
    expect(codesOf(walk(), scaled)).toEqual(['one-light'])
    const dark = compareWalks(walk(), walk({ usable: (light) => light === 'day' })).findings
    expect(dark.map(({ code }) => code)).toEqual(['one-light'])
    expect(dark[0]!.message).toMatch(/4 of 4 marks no longer stand out of the noise.*lamp/)
    expect(codesOf(walk(), walk({ usable: () => false }))).toEqual(['less-contrast'])
  })

  it('one mark, where it alone changed; not where the reference was held turned there', () => {
    const off = (vertical: number) =>
      walk({
        of: (d, light) =>
          d === 9 && light === 'day' ? { horizontal: 1780 / d, vertical: vertical / d } : {},
      })
    const { findings } = compareWalks(walk(), off(1780))
    expect(findings.map(({ code }) => code)).toEqual(['one-mark'])
    expect(findings[0]!.message).toMatch(/^day, board: the 9 m mark alone has another density, -11\.0 %/)
    expect(compareWalks(walk(), off(2000)).marks.some(({ density }) => density.significant)).toBe(false)
  })

  it('a saturated share of detail is no loss at a mark, yet f10 tells of it early', () => {
    const sharp = walk({ of: () => ({ factor: 1, f10: 0.6 }) })
    const less = walk({ of: () => ({ factor: 1, f10: 0.48 }) })
    // factorU is 0 there, so the still's own scatter has to be told
    const told = (parts: ComparableWalk): ComparableWalk => ({
      ...parts,
      marks: parts.marks.map((mark) => ({
        ...mark,
        measured: {
          ...mark.measured,
          stills: mark.measured.stills.map((still) => ({
            ...still,
            measurement: {
              ...still.measurement,
              sharpness: { ...still.measurement.sharpness!, f10OwnU: 0.02 },
            },
          })),
        },
      })),
    })
    const { findings, marks } = compareWalks(told(sharp), told(less))
    expect(findings.map(({ code }) => code)).toEqual(['focus-or-dirt'])
    for (const { detail } of marks) expect([detail!.change, detail!.significant]).toEqual([0, false])
  })
})

describe('what the marks tell apart', () => {
  /** Two lights with a clicked board and a found chart each; `of` what a still of them is. */
  function both(of: (d: number, light: string, reference: string) => StillParts): ComparableWalk {
    const stills = ['day', 'infrared'].flatMap((light) =>
      ['board', 'chart'].flatMap((reference) =>
        MARKS.map((distanceM) => {
          const isClicked = reference === 'board'
          const common = { clickBiasRel: isClicked ? 0.004 : 0 }
          const cornersRel = isClicked ? 0.006 : 0.001
          return stillOf({
            distanceM,
            light,
            reference,
            common,
            cornersRel,
            ...of(distanceM, light, reference),
          })
        }),
      ),
    )
    const marks = groupBy(stills, ({ light, reference }) => `${light} ${reference}`)
    return {
      ...walk(),
      references: { board: '600 x 400 mm', chart: 'the A2 chart' },
      marks: [...marks.values()].flatMap((series) =>
        combineRepeats(series).map((measured) => ({ measured, usable: true })),
      ),
    }
  }

  it('the reference or the hand, never the camera, where clicked boards shrank by 6 % and both charts read the same (first build, 1.8)', () => {
    const shrunk = both((d, _, reference) => (reference === 'board' ? { horizontal: 1880 / d } : {}))
    const comparison = compareWalks(
      both(() => ({})),
      shrunk,
    )
    const { findings } = comparison
    expect(findings.map(({ code }) => code)).toEqual(['reference-or-hand'])
    expect(comparisonSentence(comparison)).toMatch(/^A reference has changed, or how it was clicked/)
    expect(findings[0]!.message).toMatch(
      /^density changed on the board alone, by -6\.\d+ % .*the chart did not change.*not the camera$/,
    )
    expect(findings[0]!.message).not.toMatch(/zoom|moved|cannot distinguish/)
  })

  it('every clicked reference, where two shrank and the chart did not', () => {
    const plate = (walked: ComparableWalk): ComparableWalk => ({
      ...walked,
      references: { ...walked.references, plate: '520 x 110 mm' },
      marks: [
        ...walked.marks,
        ...walked.marks
          .filter(({ measured }) => measured.reference === 'board')
          .map((mark) => ({ ...mark, measured: { ...mark.measured, reference: 'plate' } })),
      ],
    })
    const shrunk = both((d, _, reference) => (reference === 'board' ? { horizontal: 1880 / d } : {}))
    const { findings } = compareWalks(plate(both(() => ({}))), plate(shrunk))
    expect(findings.map(({ code }) => code)).toEqual(['reference-or-hand'])
    expect(findings[0]!.message).toContain('on the board and plate alone')
  })

  it('a zoom, where the chart changed with the board', () => {
    const zoomed = both((d) => ({ horizontal: 1880 / d }))
    expect(
      compareWalks(
        both(() => ({})),
        zoomed,
      ).findings.map(({ code }) => code),
    ).toEqual(['moved-or-zoomed'])
  })

  it('two at once, each by its name: zoomed under infrared, and another board', () => {
    const changed = both((d, light, reference) => ({
      horizontal: (2000 / d) * (light === 'infrared' ? 1.08 : 1) * (reference === 'board' ? 0.9 : 1),
    }))
    const { findings } = compareWalks(
      both(() => ({})),
      changed,
    )
    expect(new Set(findings.map(({ code }) => code))).toEqual(new Set(['one-light', 'reference-or-hand']))
  })

  it('a move named with a zoom, where near and far marks hardly part', () => {
    const near = { marksM: [8, 9, 10] }
    const rough = { cornersRel: 0.02 }
    const moved = walk({ ...near, of: (d) => ({ ...rough, horizontal: 2000 / (d - 1.2) }) })
    const { findings } = compareWalks(walk({ ...near, of: () => rough }), moved)
    expect(findings.map(({ code }) => code)).toEqual(['moved-or-zoomed'])
    expect(findings[0]!.message).toMatch(/the camera was moved or zoomed/)
  })

  it('nothing, where both tapes begin 0.3 m apart: each walk is believed to begin anywhere within 0.2 m', () => {
    const apart = walk({ of: (d) => ({ horizontal: 2000 / (d - 0.3) }) })
    expect(compareWalks(walk(), apart).findings).toEqual([])
  })
})

describe('what does not compare', () => {
  it.each([
    ['other-camera', { camera: { name: 'Loft camera', id: 'C-2', serial: null } }],
    ['other-still-size', { stillSizes: ['1920 x 1080'] }],
    ['other-method', { method: '2' }],
    ['other-distances', { distanceFrom: 'ground' }],
  ] as const)('%s: nothing is compared', (code, other) => {
    const first = walk({ camera: { name: 'Loft camera', id: 'C-1', serial: null } })
    const { marks, findings } = compareWalks(first, walk({ ...first, of: () => ({}), ...other }))
    expect(findings).toEqual([expect.objectContaining({ code, weight: 'not comparable' })])
    expect(marks).toEqual([])
  })

  it('a camera with the same serial number is the same, whatever it is called', () => {
    const called = (name: string) => walk({ camera: { name, id: null, serial: '60317' } })
    expect(codesOf(called('Loft'), called('Loft, east'))).toEqual([])
  })

  it('another object of the same name is compared with both sizes in doubt, and told', () => {
    const other = { references: { board: '500 x 400 mm' } }
    const sized = (distanceM: number): StillParts => ({ distanceM, common: { sizeRel: 0.01 } })
    const [same, apart] = [walk({ of: sized }), walk({ of: sized, ...other })].map((after) =>
      compareWalks(walk({ of: sized }), after),
    )
    expect(same!.findings).toEqual([])
    expect(apart!.findings.map(({ code }) => code)).toEqual(['other-reference'])
    expect(apart!.series[0]!.density.high).toBeGreaterThan(1.3 * same!.series[0]!.density.high)
  })

  it('marks of one walk alone are listed, and no shared mark is told', () => {
    expect(codesOf(walk(), walk({ marksM: [4, 6, 9] }))).toEqual(['mark-not-shared', 'mark-not-shared'])
    expect(codesOf(walk(), walk({ marksM: [5, 7] }))).toEqual(['no-shared-mark'])
  })
})

describe('promises', () => {
  const promise = (verdict: Verdict, distance = 9): PromiseResult => ({
    grade: 'recognise',
    distance,
    light: 'day',
    reference: null,
    basis: 'detail',
    verdict,
    byPixels: verdict,
    onOtherBasis: null,
    mend: null,
    task: null,
    what: null,
    kind: 'least',
    value: null,
    low: null,
    high: null,
    limit: 125,
    decidedBy: null,
    why: '',
  })

  it('stand side by side, also those of one walk alone', () => {
    const before = walk({ promises: [promise('met'), promise('met', 4)] })
    const after = walk({ promises: [promise('not shown'), promise('met', 12)] })
    const { promises } = compareWalks(before, after)
    expect(promises.map(({ distance, before: b, after: a }) => [distance, b, a])).toEqual([
      [9, 'met', 'not shown'],
      [4, 'met', null],
      [12, null, 'met'],
    ])
    expect(promises.map(isWorse)).toEqual([true, false, false])
  })
})

it('a change in words has its sign, and none where it rounds to nought', () => {
  expect([0.0612, -0.152, -0.0003, 0.0996].map(signedPercent)).toEqual(['+6.1 %', '-15 %', '0.0 %', '+10 %'])
})

describe('what the scene says', () => {
  const seen = (pan: number, tilt: number, more: Partial<ComparedScene> = {}): ComparedScene => ({
    light: 'day',
    turn: { pan, tilt, roll: 0 },
    shift: { x: -38 * pan, y: -38 * tilt },
    scale: 1,
    u: { turn: 0.03, shift: 1.2, scale: 0.0006 },
    matches: 90,
    ...more,
  })
  const hung = (still: JudgedStill): JudgedStill => {
    const { corners } = still.measurement
    const down = corners.map(([x, y]) => [x, y + 300] as const)
    return { ...still, measurement: { ...still.measurement, corners: down } }
  }
  const told = (scene: readonly ComparedScene[], after: ComparableWalk = walk()) =>
    compareWalks(walk(), after, scene)
  const messages = (scene: readonly ComparedScene[]): string[] =>
    told(scene).findings.map(({ code, message }) => `${code}: ${message}`)

  it('a camera that turned, sideways too', () => {
    expect(messages([seen(-0.4, 0.1)])).toEqual([
      'points-elsewhere: the camera looks 0.400 degrees to the left and 0.100 down (within 0.030) of where it looked before, seen by day: it was knocked or turned',
    ])
    expect(sceneLine(told([seen(-0.4, 0.1)]).scene)).toBeNull()
  })

  it('px alone, where no lens is known', () => {
    const [message] = messages([seen(0.4, 0, { turn: null, u: { turn: 0, shift: 1.2, scale: 0.0006 } })])
    expect(message).toMatch(/^points-elsewhere: what does not move lies 15\.2 px to the left \(within 1\.2\)/)
  })

  it('that it stands as it stood, whatever is carried higher', () => {
    // Carried lower at every mark, by one angle: by what is carried alone, the camera looks higher.
    const plain = walk()
    const lower = {
      ...plain,
      marks: plain.marks.map((mark) => ({
        ...mark,
        measured: { ...mark.measured, stills: mark.measured.stills.map(hung) },
      })),
    }
    const byMarks = compareWalks(walk(), lower).findings.map(({ code }) => code)
    expect(byMarks).toContain('points-elsewhere')
    const { findings, scene } = told([seen(0.01, 0.01)], lower)
    expect(findings).toEqual([])
    expect(sceneLine(scene)).toBe(
      'Seen by day, the scene lies where it lay, within 0.045 degrees, and is as large, within 0.060 %',
    )
  })

  it('nothing, where it is not told', () => {
    expect(sceneLine(told([]).scene)).toMatch(
      /^The scene does not show whether the camera still looks where it did/,
    )
  })

  it('a zoom', () => {
    expect(messages([seen(0, 0, { scale: 1.012 })])).toEqual([
      'moved-or-zoomed: the scene is 1.200 (1.140 to 1.261) % larger than before, seen by day: it was zoomed, or the picture is scaled otherwise',
    ])
  })

  it('that densities changed by no zoom, where it is as large as before', () => {
    const denser = walk({ of: (d) => ({ horizontal: 2080 / d }) })
    const codes = (scene: readonly ComparedScene[]) => compareWalks(walk(), denser, scene).findings
    expect(codes([]).map(({ code }) => code)).toEqual(['moved-or-zoomed'])
    const [found] = codes([seen(0, 0)])
    expect(found!.code).toBe('reference-or-hand')
    expect(found!.message).toContain('while the scene is as large as before')
    // What is known of its size to 1 % alone excuses no zoom of 4 %.
    const poor = codes([seen(0, 0, { u: { turn: 0.05, shift: 2, scale: 0.01 } })])
    expect(poor.map(({ code }) => code)).toEqual(['moved-or-zoomed'])
  })

  it('of two lights that say the same once, of two that do not both', () => {
    const under = (pan: number) =>
      seen(pan, 0, { light: 'infrared', u: { turn: 0.05, shift: 2, scale: 0.0006 } })
    expect(messages([under(-0.41), seen(-0.4, 0)])).toHaveLength(1)
    expect(messages([under(-0.41), seen(-0.4, 0)])[0]).toContain('seen by day')
    expect(messages([under(0.41), seen(-0.4, 0)])).toHaveLength(2)
  })
})
