import { describe, expect, it } from 'vitest'
import { createHash } from 'node:crypto'
import { measureTable } from '../../../src/cli/measure/measureTable.js'
import { judgeAgain } from '../../../src/walk/measure/judgeAgain.js'
import { measureWalk } from '../../../src/walk/measure/measureWalk.js'
import { planMeasuring } from '../../../src/walk/measure/planMeasuring.js'
import { comparableWalk } from '../../../src/walk/site/comparableWalk.js'
import { compareWalks } from '../../../src/grade/compare/compareWalks.js'
import { readWalk } from '../../../src/walk/read/readWalk.js'
import type { WalkResults } from '../../../src/walk/schemas/resultsSchema.js'
import {
  boardCorners,
  boardStill,
  put,
  SMALL_WALK_PX_PER_RAD,
  smallWalkYaml,
} from '../../journeys/smallWalk.js'
import { temporaryWalk } from '../temporaryWalk.js'

const TAPED_M = [3, 4, 6, 9, 12]
const PROMISED_M = [4, 7, 11]

/** A board at marks whose tape begins `offM` before the lens; simulated. Its folder, and what the walk says of the tape. */
async function tapedWalk(
  offM: number,
  tapedM = TAPED_M,
): Promise<(begins: string | null) => Promise<WalkResults>> {
  const stills = await Promise.all(
    tapedM.map(async (markM) => {
      const corners = boardCorners(markM + offM)
      return {
        file: `stills/day/${markM}m.png`,
        corners,
        bytes: await boardStill(markM + offM, 'png', 10 * markM + 1),
      }
    }),
  )
  const picks = stills.map(({ file, corners, bytes }) => {
    const sha256 = createHash('sha256').update(bytes).digest('hex')
    return [file, { sha256, reference: 'board', corners, sigma: 0.1, method: 'snapped' }]
  })
  const dir = await temporaryWalk({
    ...Object.fromEntries(stills.map(({ file, bytes }) => [file, bytes])),
    'picks.json': JSON.stringify({
      format: 'proofwalk-picks/1',
      stills: Object.fromEntries(picks) as unknown,
    }),
  })
  return async (begins) => {
    const promises = PROMISED_M.map((at) => `  - { grade: observe, at: ${at} m, light: day }\n`).join('')
    const yaml = smallWalkYaml(begins === null ? '' : `distance: { begins: ${begins} }\n`)
      .replace('  - { grade: observe, at: 9 m, light: day }\n', promises)
      .replace('lights: [day]', 'lights: [day]\njudge: pixels')
    await put(dir, 'walk.yaml', yaml)
    const walk = await readWalk(dir)
    const results = await measureWalk(walk, { workers: 1, scene: false })
    expect(await judgeAgain(walk, await planMeasuring(walk), results), 'judged again').toEqual(results)
    return results
  }
}

function covered({ promises }: WalkResults): boolean[] {
  return promises.map(({ low, high, distance }) => {
    const truth = SMALL_WALK_PX_PER_RAD / distance
    return low! < truth && truth < high!
  })
}

describe('a tape measure that starts elsewhere', () => {
  it.each([0.5, -0.5])(
    'by %f m is told, and as advised written, the finding is gone and promises hold',
    async (offM) => {
      const measured = await tapedWalk(offM)
      const before = await measured(null)
      const [told] = before.findings
      expect(before.findings.map(({ code }) => code)).toEqual(['tape-begins-elsewhere'])
      expect(told!.low! < offM && offM < told!.high!, 'the figure holds').toBe(true)
      const advised = /write begins: (-?[\d.]+ m) under distance in walk\.yaml$/.exec(told!.message)![1]!
      expect(Math.sign(parseFloat(advised))).toBe(Math.sign(offM))

      const after = await measured(advised)
      expect(after.findings.map(({ code }) => code)).toEqual(['begins-added'])
      expect(covered(after)).toEqual([true, true, true])
      expect(after.walk.distance.begins).toBeCloseTo(offM, 1)
      after.stills.forEach(({ distance, file }) => {
        expect(distance).toBeCloseTo(parseFloat(file.split('/')[2]!) + after.walk.distance.begins, 9)
      })
      const [first] = after.marks
      expect(measureTable(after)).toContain(
        `${Math.abs(after.walk.distance.begins)} m is ${offM > 0 ? 'added to' : 'taken off'} every measured distance`,
      )
      expect(first!.distance).toBeCloseTo(3 + offM, 1)

      const wrong = await measured(offM > 0 ? '-0.3 m' : '0.3 m')
      const again = wrong.findings.find(({ code }) => code === 'tape-begins-elsewhere')!
      expect(again.low! < offM && offM < again.high!, 'the advice counts what was written').toBe(true)
    },
  )
})

it('walks whose tapes begin elsewhere are compared by their distances from the lens', async () => {
  const fromLens = await (await tapedWalk(0))(null)
  const behind = await tapedWalk(
    0.5,
    TAPED_M.map((markM) => markM - 0.5),
  )
  const compared = (after: WalkResults) => compareWalks(comparableWalk(fromLens), comparableWalk(after))
  const same = compared(await behind('0.5 m'))
  expect(same.marks.map(({ distance }) => distance)).toEqual(TAPED_M)
  expect(same.findings.filter(({ weight }) => weight === 'changed')).toEqual([])
  expect(compared(await behind(null)).marks).toEqual([])
})
