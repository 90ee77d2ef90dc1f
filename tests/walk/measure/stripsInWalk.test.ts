import { describe, expect, test } from 'vitest'
import { chartPaper } from '../../../src/chart/printed/chartPapers.js'
import { carriedBoard } from '../../../src/simulate/walker/demoReferences.js'
import { differingFields } from '../../../src/walk/measure/differingFields.js'
import { judgeAgain } from '../../../src/walk/measure/judgeAgain.js'
import { measureWalk } from '../../../src/walk/measure/measureWalk.js'
import { planMeasuring } from '../../../src/walk/measure/planMeasuring.js'
import { readWalk } from '../../../src/walk/read/readWalk.js'
import { resultsSchema } from '../../../src/walk/schemas/resultsSchema.js'
import { sheetOfStrips } from '../../support/stripSurface.js'
import { chartAt, clickedPick, takeScene, type SceneStill } from '../chartScene.js'
import { temporaryWalk } from '../temporaryWalk.js'
import { strictFaults } from '../writtenStrictly.js'

const A3 = chartPaper('A3')!

const withStrips = (distanceM: number) => ({
  ...chartAt(A3, distanceM),
  upM: 0.15,
  covering: sheetOfStrips(A3, A3.heightM),
})

async function walkOf(references: string, stills: Readonly<Record<string, SceneStill>>, picks = {}) {
  const text = `site: North slipway
date: 2026-03-14
camera: { name: Slipway camera }
references: { ${references} }
lights: [day, dark]
promises:
  - { grade: recognise, at: 8 m, light: day }
  - { grade: recognise, at: 8 m, light: dark }
`
  const dir = await temporaryWalk({
    'walk.yaml': text,
    'picks.json': JSON.stringify({ format: 'proofwalk-picks/1', stills: picks }),
    ...Object.fromEntries(Object.entries(stills).map(([file, { bytes }]) => [file, bytes])),
  })
  return readWalk(dir)
}

describe('strips under a chart', () => {
  test('decide by A and k, by day and in noise that leaves density what it is; judged again they say the same', async () => {
    const stills: Record<string, SceneStill> = {}
    const night = { gain: 0.1, noiseDn: 16 }
    for (const distanceM of [4, 6, 8]) {
      stills[`stills/day/${distanceM}m.jpg`] = await takeScene([withStrips(distanceM)])
      stills[`stills/dark/${distanceM}m.jpg`] = await takeScene([withStrips(distanceM)], night)
    }
    const walk = await walkOf('chart: { chart: A3, printedWidth: 344.5 mm, strip: a3 }', stills)
    const results = await measureWalk(walk, { workers: 1, scene: false })
    expect(results.failed).toEqual([])
    expect(resultsSchema.safeParse(results).success).toBe(true)
    expect(strictFaults(JSON.parse(JSON.stringify(results)))).toBeUndefined()
    expect(results.walk.references.chart).toMatchObject({ strip: 'A3' })
    for (const still of results.stills) {
      const { strip, density, effectiveDensity } = still
      // The camera's blur leaves 0.26 cycles per px under its response, which asks for 0.1.
      expect(strip!.a / density.horizontal!, still.file).toBeGreaterThan(0.2)
      expect(strip!.a / density.horizontal!, still.file).toBeLessThan(0.31)
      expect(strip!.stroke! * strip!.a).toBeCloseTo(0.2, 6)
      expect(strip!.signs).toEqual([])
      expect(effectiveDensity!.value).toBeCloseTo(density.onTarget, 6)
      expect(strip!.k.recognise!.least).toBe(2.2)
    }
    expect(results.promises.map(({ verdict, byPixels }) => [verdict, byPixels])).toEqual([
      ['met', 'met'],
      ['not shown', 'met'],
    ])
    expect(results.promises[1]!.why).toContain('may not stand out from the noise')
    const again = await judgeAgain(walk, await planMeasuring(walk), results)
    expect(differingFields(results, again)).toEqual([])
  }, 120_000)

  test('that are not there are told, and guess nothing', async () => {
    const walk = await walkOf('chart: { chart: A3, printedWidth: 344.5 mm, strip: A3 }', {
      'stills/day/6m.jpg': await takeScene([chartAt(A3, 6)]),
    })
    const [still] = (await measureWalk(walk, { workers: 1, scene: false })).stills
    expect(still!.strip).toBeNull()
    expect(still!.problems.map(({ code }) => code)).toContain('strip-not-seen')
    expect(still!.grade).not.toBeNull()
  }, 60_000)
})

test('strips under a board whose corners were clicked are read as well', async () => {
  const scene = await takeScene([
    {
      carried: carriedBoard(),
      distanceM: 6,
      upM: 0.2,
      covering: sheetOfStrips(A3, 0.2 + 0.1 + A3.heightM / 2),
    },
  ])
  const walk = await walkOf(
    'board: { width: 600 mm, height: 400 mm, strip: A3 }',
    { 'stills/day/6m.jpg': scene },
    { 'stills/day/6m.jpg': clickedPick(scene, 'board') },
  )
  const [still] = (await measureWalk(walk, { workers: 1, scene: false })).stills
  expect(still!.strip!.a / still!.density.horizontal!).toBeGreaterThan(0.24)
  expect(still!.strip!.a / still!.density.horizontal!).toBeLessThan(0.28)
}, 60_000)
