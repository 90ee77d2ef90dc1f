import { describe, expect, it } from 'vitest'
import { seededRandom } from '../../../src/math/random.js'
import { SNAP_BIAS_PX } from '../../../src/measure/density/axisBudget.js'
import { snapCorners } from '../../../src/measure/snap/snapCorners.js'
import { BOARD } from '../boardReference.js'
import { boardScene, photographOutline } from '../outlineScene.js'
import { clicked, unsharp } from '../renderedBoard.js'
import { stillOf } from '../stillOfRaster.js'

describe('snapping boards whose edges the camera sharpened', () => {
  it('takes them, and states how far off they may be', async () => {
    for (const [amount, radiusPx, least] of [
      [0.8, 1, 15],
      [1.5, 1, 15],
      [2, 1.5, 11],
    ] as const) {
      const random = seededRandom(100 * amount)
      const scores: number[] = []
      const off: number[] = []
      let taken = 0
      for (let k = 0; k < 16; k += 1) {
        const scene = boardScene(70 + 150 * random.uniform(), random, 0.06 + 0.1 * random.uniform())
        const camera = { noiseCode: 2, quality: k % 2 === 0 ? null : 88, filter: unsharp(amount, radiusPx) }
        const { raster, corners } = await photographOutline(scene, camera, random)
        const snap = await snapCorners(stillOf(raster), BOARD, clicked(corners, random))
        if (!snap.ok) continue
        taken += 1
        snap.value.corners.flat().forEach((value, i) => {
          const error = value - corners.flat()[i]!
          off.push(error)
          scores.push(error / Math.hypot(SNAP_BIAS_PX, Math.sqrt(snap.value.covariancePx2[i]![i]!)))
        })
      }
      const rms = (values: readonly number[]): number =>
        Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length)
      const covered = scores.filter((score) => Math.abs(score) < 2).length / scores.length
      console.log(
        `unsharp ${amount}, ${radiusPx} px: ${taken} of 16 snapped, rms ${rms(off).toFixed(3)} px, score ${rms(scores).toFixed(2)}, covered ${covered.toFixed(3)}`,
      )
      expect(taken).toBeGreaterThanOrEqual(least)
      expect(covered).toBeGreaterThanOrEqual(0.93)
    }
  })
})
