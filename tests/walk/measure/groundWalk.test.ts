import { describe, expect, it } from 'vitest'
import { measureTable } from '../../../src/cli/measure/measureTable.js'
import { measureWalk } from '../../../src/walk/measure/measureWalk.js'
import { readWalk } from '../../../src/walk/read/readWalk.js'
import type { WalkResults } from '../../../src/walk/schemas/resultsSchema.js'
import {
  boardCorners,
  boardStill,
  put,
  putPicks,
  SMALL_WALK_PX_PER_RAD,
  smallWalkYaml,
} from '../../journeys/smallWalk.js'
import { expectNear } from '../../nearly.js'
import { temporaryWalk } from '../temporaryWalk.js'

const GROUND_M = [4, 6, 9, 12]
const DROP_M = 2.9
const sightM = (groundM: number): number => Math.hypot(groundM, DROP_M)

/** A board tilted to face a camera 4 m up, at marks taped along the ground; simulated. Recognise is promised at 9.59 m. */
async function groundWalk(): Promise<WalkResults> {
  const yaml = smallWalkYaml('distance: { from: ground }\n')
    .replace('camera:\n', 'camera:\n  mountHeight: 4 m\n')
    .replace('height: 400 mm }', 'height: 400 mm, carriedAt: 1.1 m }')
    .replace('grade: observe, at: 9 m', 'grade: recognise, at: 9.59 m')
    .replace('lights: [day]', 'lights: [day]\njudge: pixels')
  const dir = await temporaryWalk({ 'walk.yaml': yaml })
  for (const groundM of GROUND_M)
    await put(dir, `stills/day/${groundM}m.jpg`, await boardStill(sightM(groundM), 'jpeg', groundM))
  await putPicks(
    dir,
    GROUND_M.map((groundM) => ({
      file: `stills/day/${groundM}m.jpg`,
      corners: boardCorners(sightM(groundM)),
    })),
  )
  return measureWalk(await readWalk(dir), { workers: 1, scene: false })
}

describe('a walk taped along the ground', () => {
  it('is judged by the line of sight: lens, ranges and promises, each told at the distance as taped', async () => {
    const results = await groundWalk()
    for (const mark of results.marks) {
      expectNear(mark.lineOfSight, sightM(mark.distance), { rel: 1e-6 })
      const truth = SMALL_WALK_PX_PER_RAD / mark.lineOfSight
      expect(mark.density.low).toBeLessThan(truth)
      expect(mark.density.high).toBeGreaterThan(truth)
    }
    expect(results.marks.map(({ distance }) => distance)).toEqual(GROUND_M)
    const { low, high } = results.lens[0]!.pixelsPerRadian
    expect(low).toBeLessThan(SMALL_WALK_PX_PER_RAD)
    expect(high).toBeGreaterThan(SMALL_WALK_PX_PER_RAD)
    // 125 px/m are reached 9.6 m from the lens, which is 9.15 m along the ground.
    const range = results.ranges.find(({ grade, basis }) => grade === 'recognise' && basis === 'pixels')!
    expect(range.low!).toBeLessThan(Math.sqrt(9.6 ** 2 - DROP_M ** 2))
    expect(range.high!).toBeGreaterThan(Math.sqrt(9.6 ** 2 - DROP_M ** 2))
    expect(range.high!, 'the line of sight itself is not a distance along the ground').toBeLessThan(9.5)
    // At 9.59 m along the ground 119.7 px/m are left; taken for a line of sight it would be 125.1, and not missed.
    expect(results.promises[0]!.verdict).toBe('not met')
    expectNear(results.promises[0]!.value!, SMALL_WALK_PX_PER_RAD / sightM(9.59), { rel: 0.02 })
    expect(measureTable(results)).toMatch(/^ +mark +line of sight +px\/m/m)
    expect(measureTable(results)).toMatch(/^ +9 m +9\.46 m /m)
  })
})
