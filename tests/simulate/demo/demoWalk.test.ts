import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { seededRandom } from '../../../src/math/random.js'
import type { Quad } from '../../../src/math/point.js'
import { claimDemoFolder } from '../../../src/simulate/demo/claimDemoFolder.js'
import { DEMO_KIND } from '../../../src/simulate/demo/makeDemoWalk.js'
import { demoLight } from '../../../src/simulate/demo/writeDemoLight.js'
import { DEMO_STILLS, demoStillFile, type DemoRole } from '../../../src/simulate/demo/demoScenario.js'
import { demoStation } from '../../../src/simulate/demo/demoStation.js'
import { DEMO_WALK_TEXT } from '../../../src/simulate/demo/demoWalkText.js'
import { renderBackground } from '../../../src/simulate/yard/renderBackground.js'
import { simulateClicks } from '../../../src/simulate/camera/simulateClicks.js'
import { readWalk } from '../../../src/walk/read/readWalk.js'
import { expectNear } from '../../nearly.js'

let folder: string
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'proofwalk-'))
})
afterEach(async () => {
  await rm(folder, { recursive: true, force: true })
})

describe('the walk of the demonstration', () => {
  it('is a valid walk that says it is simulated and knows every light, reference and mark of its stills', async () => {
    await writeFile(join(folder, 'walk.yaml'), DEMO_WALK_TEXT)
    const walk = await readWalk(folder)
    expect(walk.simulated).toBe(true)
    for (const still of DEMO_STILLS) {
      expect(walk.lights).toContain(still.light)
      expect(walk.references.map(({ name }) => name)).toContain(still.reference)
      expect(walk.marksM).toContain(still.tapedM)
    }
    expect(walk.camera.image).toEqual({ width: demoStation(1).width, height: demoStation(1).height })
  })

  it('promises something for a still of its story each time, on a reference it has there', async () => {
    await writeFile(join(folder, 'walk.yaml'), DEMO_WALK_TEXT)
    const { promises } = await readWalk(folder)
    expect(promises.length).toBeGreaterThanOrEqual(5)
    for (const { distanceM, light, reference } of promises) {
      const still = DEMO_STILLS.find(
        (one) => one.tapedM === distanceM && one.light === light && one.reference === reference,
      )
      expect(still?.role, `${light} ${distanceM} m`).not.toBeNull()
      expect(still, `${light} ${distanceM} m`).toBeDefined()
    }
  })

  it('has each part of the story once, and only one tape that lies wrong by more than its tolerance', () => {
    const roles = DEMO_STILLS.flatMap(({ role }) => (role === null ? [] : [role]))
    const wanted: DemoRole[] = [
      'wrong-tape',
      'promise-kept',
      'at-the-limit',
      'board-beside-it',
      'plate-at-white',
      'blown-up',
      'sharp-by-day',
      'soft-under-infrared',
      'knocked',
    ]
    expect([...roles].sort()).toEqual([...wanted].sort())
    expect(new Set(DEMO_STILLS.map(demoStillFile)).size).toBe(DEMO_STILLS.length)
    const off = DEMO_STILLS.filter((still) => Math.abs(still.trueM - still.tapedM) > 0.05)
    expect(off.map(({ role }) => role)).toEqual(['wrong-tape'])
  })
})

describe('the folder of the demonstration', () => {
  it('is refused where it holds anything else, and left as it was', async () => {
    await writeFile(join(folder, 'mine.txt'), 'mine')
    await expect(claimDemoFolder(folder, DEMO_KIND)).rejects.toMatchObject({ code: 'folder-in-use' })
    expect(await readdir(folder)).toEqual(['mine.txt'])
  })

  it('is refused where something was added to an earlier demonstration', async () => {
    await writeFile(join(folder, 'walk.yaml'), DEMO_WALK_TEXT)
    await writeFile(join(folder, 'mine.txt'), 'mine')
    await expect(claimDemoFolder(folder, DEMO_KIND)).rejects.toMatchObject({ code: 'folder-in-use' })
    expect((await readdir(folder)).sort()).toEqual(['mine.txt', 'walk.yaml'])
  })

  it('replaces an earlier demonstration only once it is finished', async () => {
    const dir = join(folder, 'demo')
    await mkdir(join(dir, 'stills', 'day'), { recursive: true })
    await writeFile(join(dir, 'walk.yaml'), DEMO_WALK_TEXT)
    await writeFile(join(dir, 'results.json'), 'old')
    const claimed = await claimDemoFolder(dir, DEMO_KIND)
    await writeFile(join(claimed.making, 'walk.yaml'), 'new')
    expect(await readFile(join(dir, 'results.json'), 'utf8')).toBe('old')
    await claimed.finish()
    expect(await readdir(dir)).toEqual(['walk.yaml'])
    expect(await readFile(join(dir, 'walk.yaml'), 'utf8')).toBe('new')
    expect(await readdir(folder)).toEqual(['demo'])
  })

  it('leaves nothing behind when it is abandoned', async () => {
    const claimed = await claimDemoFolder(join(folder, 'new', 'demo'), DEMO_KIND)
    await writeFile(join(claimed.making, 'walk.yaml'), 'new')
    await claimed.abandon()
    expect(await readdir(join(folder, 'new'))).toEqual([])
  })
})

describe('the clicks of the demonstration', () => {
  it('scatter by the stated half pixel and lie outward by the stated bias', () => {
    const square: Quad = [
      [0, 0],
      [100, 0],
      [100, 80],
      [0, 80],
    ]
    const random = seededRandom(3)
    const widths: number[] = []
    const lefts: number[] = []
    for (let run = 0; run < 4000; run += 1) {
      const clicks = simulateClicks(square, { sigmaPx: 0.5, outwardPx: 0.15 }, random)
      widths.push(clicks[1][0] - clicks[0][0])
      lefts.push(clicks[0][0])
    }
    const mean = (values: number[]): number => values.reduce((a, b) => a + b, 0) / values.length
    const scatter = Math.sqrt(mean(lefts.map((x) => (x - mean(lefts)) ** 2)))
    expectNear(mean(widths), 100.3, { abs: 0.045 }, 'four standard errors')
    expectNear(scatter, 0.5, { abs: 0.023 }, 'four standard errors')
  })
})

describe('the yard', () => {
  const station = { ...demoStation(16), width: 240, height: 135 }
  const levelAt = (image: ReturnType<typeof renderBackground>, x: number, y: number): number =>
    image.data[(y * image.width + x) * image.channels]!

  it('is drawn alike every time, its sky above its water above its ground', () => {
    const day = renderBackground(station, demoLight('day'))
    expect(renderBackground(station, demoLight('day')).data).toEqual(day.data)
    expect(levelAt(day, 110, 8)).toBeGreaterThan(1.3 * levelAt(day, 110, 90))
  })

  it('falls into the dark away from the camera under its own lamp', () => {
    const night = renderBackground(station, demoLight('infrared'))
    expect(night.channels).toBe(1)
    const [near, middle, far] = [levelAt(night, 128, 110), levelAt(night, 128, 75), levelAt(night, 128, 58)]
    expect(near).toBeGreaterThan(2 * middle)
    expect(middle).toBeGreaterThan(1.5 * far)
  })
})
