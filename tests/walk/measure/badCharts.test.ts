import { FIELD, FRAME, moduleM } from '../../../src/chart/printed/chartGeometry.js'
import { chartPaper } from '../../../src/chart/printed/chartPapers.js'
import { builtInGrading } from '../../../src/grade/gradings/builtInGradings.js'
import { chartReference } from '../../../src/measure/reference/chartReference.js'
import { measureSingle } from '../../../src/walk/measure/measureSingle.js'
import type { StillEntry } from '../../../src/walk/schemas/resultsSchema.js'
import { curled, halfInShadow, hand } from '../badChartScene.js'
import { chartAt, takeScene, type Held, type SceneOptions, type SceneStill } from '../chartScene.js'
import { temporaryWalk } from '../temporaryWalk.js'
import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'

const A2 = chartPaper('A2')!
const MODULE_M = moduleM(A2)

type Told =
  | { readonly ok: true; readonly entry: StillEntry; readonly still: SceneStill }
  | { readonly ok: false; readonly code: string; readonly message: string }

/** What is told of a still of these things by whoever taped an A2 chart. */
async function told(things: readonly Held[], options: SceneOptions = {}): Promise<Told> {
  const dir = await temporaryWalk({})
  const still = await takeScene(things, options)
  const path = join(dir, 'still.jpg')
  await writeFile(path, still.bytes)
  const charts = [chartReference('chart', A2, 0.4872)]
  const measured = await measureSingle({
    path,
    subject: { kind: 'chart', charts, elseMend: null },
    distanceM: things[0]!.distanceM,
    grading: builtInGrading('iec-62676-4-2014')!,
    judge: 'detail',
  })
  if (!measured.ok) return { ok: false, code: measured.code, message: measured.message }
  return { ok: true, entry: measured.value, still }
}

/** How far both densities are off, each as a share of its stated uncertainty. */
function offOverU(entry: StillEntry, { truth }: SceneStill): number {
  const { horizontal, horizontalU, vertical, verticalU } = entry.density
  return Math.max(
    Math.abs(horizontal! - truth.horizontalPxPerM) / horizontalU!,
    Math.abs(vertical! - truth.verticalPxPerM) / verticalU!,
  )
}

/** Measured within its stated uncertainty, or refused by one of these codes: never a guess. */
function expectHonest(what: string, one: Told, codes: readonly string[]): void {
  if (one.ok) {
    const off = offOverU(one.entry, one.still)
    const relative = one.entry.density.horizontalU! / one.entry.density.horizontal!
    console.log(`${what}: found, off by ${off.toFixed(2)} of U = ${(100 * relative).toFixed(2)} %`)
    expect(off, what).toBeLessThan(1)
    expect(relative, what).toBeLessThan(0.05)
  } else {
    console.log(`${what}: ${one.code}`)
    expect(codes, what).toContain(one.code)
    expect(one.message, what).toMatch(/; /)
  }
}

/** The chart at so many px a module, facing: the lens has 1400 px per radian. */
const chartOf = (pixelsPerModule: number): Held => chartAt(A2, (1400 * MODULE_M) / pixelsPerModule)

describe('a chart as people hold it is measured rightly, or refused in words: never guessed', () => {
  test('curled paper is told, put right for its middle, and its interval holds the truth', async () => {
    for (const [radiusM, yawRad] of [
      [2.2, 0.06],
      [0.9, 0.35],
    ] as const) {
      const spoilt: Held['spoilt'] = (carried, station, pose) => curled(carried, station, pose, radiusM)
      const one = await told([{ ...chartOf(6), spoilt }], { yawRad })
      if (!one.ok) throw new Error(one.code)
      expectHonest(`curled round ${radiusM} m, turned ${yawRad}`, one, [])
      expect(one.entry.problems.map(({ code }) => code)).toContain('chart-bent')
    }
    const flat = await told([chartOf(6)])
    expect(flat.ok && flat.entry.problems.map(({ code }) => code)).not.toContain('chart-bent')
  }, 120_000)

  test('two at different distances', async () => {
    const [near, far] = [chartOf(10), chartOf(4)]
    const one = await told([
      { ...near, offM: -0.7 },
      { ...far, offM: 2 },
    ])
    expect(one.ok ? 'measured' : one.code).toBe('chart-two')
  })

  test.each([0.5, 0.25, 0.12])(
    'half in a shadow that leaves %s of the light',
    async (share) => {
      for (const atModules of share === 0.5 ? [0, 2.5] : [0]) {
        const spoilt: Held['spoilt'] = (carried) => halfInShadow(carried, share, atModules * MODULE_M)
        const one = await told([{ ...chartOf(7), spoilt }])
        if (share >= 0.25) expect(one.ok).toBe(true)
        expectHonest(`shadow ${share} from ${atModules} modules`, one, [
          'chart-none',
          'chart-covered',
          'chart-no-fit',
        ])
      }
    },
    120_000,
  )

  test.each([2, 3.5, 5])(
    'a hand of %s modules across half over a corner',
    async (modules) => {
      const [x, y] = [FRAME.right - FIELD.width / 2, FRAME.bottom - FIELD.height / 2]
      const covering: Held['covering'] = (pose) => [
        hand(pose, x * MODULE_M, y * MODULE_M, modules * MODULE_M),
      ]
      const one = await told([{ ...chartOf(6), covering }])
      if (modules === 2) expect(one.ok).toBe(true)
      expectHonest(`hand of ${modules} modules`, one, ['chart-none', 'chart-covered', 'chart-no-fit'])
    },
    120_000,
  )

  test('its paper at white: density stands, no detail is told', async () => {
    const one = await told([chartOf(7)], { gain: 4 })
    if (!one.ok) throw new Error(one.code)
    expectHonest('paper at white', one, [])
    expect(one.entry.sharpness).toBeNull()
    expect(one.entry.problems.map(({ code }) => code)).toContain('chart-washed-out')
  }, 60_000)

  test.each([
    [-1.3, 8],
    [0.3, 6],
    [1, 4],
    [3.5, 8],
    [2, 20],
  ])(
    "its frame %s modules over the picture's edge, at %s px a module",
    async (over, size) => {
      const held = chartOf(size)
      const offPx = 480 + (over - (FIELD.width / 2 - FRAME.left)) * size
      const offM = Math.sin(Math.atan(offPx / 1400)) * held.distanceM
      const one = await told([{ ...held, offM }])
      if (over > 0) {
        expect(one.ok ? 'measured' : one.code).toBe('chart-none')
        expect(one.ok ? '' : one.message).toContain('show all of it, uncovered')
      } else expectHonest(`frame ${-over} modules inside the edge`, one, [])
    },
    60_000,
  )

  test.each([0.8, 1.3])(
    'blurred by %s of a module',
    async (modules) => {
      const one = await told([chartOf(6)], { blurSigmaPx: 6 * modules })
      expectHonest(`blur of ${modules} modules`, one, ['chart-none', 'chart-too-blurred', 'chart-no-fit'])
    },
    120_000,
  )

  test('faint, in noise as strong as half its contrast', async () => {
    const one = await told([chartOf(6)], { gain: 0.02, noiseDn: 18 })
    expectHonest('faint', one, ['chart-none', 'chart-no-fit'])
  }, 60_000)
})
